// What npm does in a fresh clone: the build; without the packages it takes, what was built before will do.
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, URL } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const has = (...path) => existsSync(join(root, ...path));
if (has('node_modules', 'esbuild')) await import('./build.mjs');
else if (!has('dist', 'tallytare.cjs'))
  console.error('tallytare is not built: "npm ci" installs what builds it.');
