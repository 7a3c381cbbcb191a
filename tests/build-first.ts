import { execFileSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** When the youngest file of a folder was written, in milliseconds; 0 where there is none. */
function youngest(folder: string): number {
  const files = readdirSync(join(root, folder), { recursive: true, withFileTypes: true });
  return files
    .filter((file) => file.isFile())
    .reduce((latest, file) => Math.max(latest, statSync(join(file.parentPath, file.name)).mtimeMs), 0);
}

/** Some tests start the program as people do; what they start is built from the sources as they are. */
export default function setup(): void {
  const built = statSync(join(root, 'dist', 'trial.schema.json'), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  if (built < Math.max(youngest('src'), youngest('bin'))) {
    execFileSync(process.execPath, ['src/build/build.mjs'], { cwd: root, stdio: 'inherit' });
  }
}
