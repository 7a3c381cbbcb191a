// npm run bench [-- PAIRS [ROUNDS]]: prints the ratios, and writes them to dist/bench.json.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { manyFiles } from './many-files.mjs';
import { root } from './measure.mjs';
import { startUp } from './start-up.mjs';

const [pairs = 40, rounds = 5] = process.argv.slice(2).map(Number);
const found = { node: process.version, start_up: startUp(pairs), many: manyFiles(rounds) };
const file = join(root, 'dist', 'bench.json');
writeFileSync(file, `${JSON.stringify(found, null, 2)}\n`);
console.log(`written to ${file}`);
