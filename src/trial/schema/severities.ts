/** How bad what was found or seen is, from the least to the worst. */
export const SEVERITIES = ['none', 'minor', 'major', 'critical'] as const;
export type SeverityWord = (typeof SEVERITIES)[number];
