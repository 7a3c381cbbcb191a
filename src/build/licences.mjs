// The notices of the packages that are bundled, each with the text of its licence.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** The packages that bundles hold, by the files they were made of. */
function packagesIn(metafiles) {
  const folders = new Set();
  for (const { inputs } of metafiles) {
    for (const path of Object.keys(inputs)) {
      const folder = /^.*node_modules\/(?:@[^/]+\/)?[^/]+/.exec(path)?.[0];
      if (folder !== undefined) folders.add(folder);
    }
  }
  return [...folders].sort();
}

/** @throws Error where a package comes without the text of its licence */
export function licencesOf(metafiles) {
  return packagesIn(metafiles)
    .map((folder) => {
      const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      const file = readdirSync(folder).find((one) => /^(licen[cs]e|copying)/i.test(one));
      const text =
        file !== undefined && existsSync(join(folder, file)) ? readFileSync(join(folder, file), 'utf8') : '';
      return `${name} ${version}: ${license}\n\n${text.trim()}\n`;
    })
    .join(`\n${'-'.repeat(72)}\n\n`);
}
