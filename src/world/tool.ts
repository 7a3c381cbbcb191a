import manifest from '../../package.json' with { type: 'json' };

export const { version } = manifest;

/** The tool with its version, as results carry it. */
export const toolName = (): string => `${manifest.name} ${version}`;
