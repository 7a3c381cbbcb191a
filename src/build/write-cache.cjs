'use strict';
const { Buffer } = require('node:buffer');
// Last step of the build: runs the bundle over examples and keeps the code V8 compiled on the way; then
// prints the schema that the examples name in their first line.
const { readdirSync, renameSync, rmSync, writeFileSync } = require('node:fs');
const { join } = require('node:path');
const root = join(__dirname, '..', '..');
const { load, cacheFile, sumsOf } = require(join(root, 'bin', 'tallytare.js'));

let printed = '';
/** The world as the program has it at every start, but for what it prints. */
function quiet({ processIo }) {
  const io = processIo(root);
  io.out('');
  return { ...io, colour: false, out: (text) => void (printed += text) };
}

const EXAMPLES = ['examples/harbour-street.yaml', 'examples/four-colour-pass.yaml'];
// Whatever becomes of this build, no bundle is left with the code of another.
const dist = join(root, 'dist');
for (const name of readdirSync(dist))
  if (/\.cache$|^(one|verdict|patterns)\.cjs$/.test(name)) rmSync(join(dist, name));

const { program, script, source } = load();
const io = quiet(program);
for (const example of EXAMPLES) {
  printed = '';
  if (program.main(['verdict', join(root, example)], io) !== 0)
    throw new Error(`${example} does not pass:\n${printed}`);
}
// Whole or not at all: a start beside the build finds the old one, or the new one.
const code = script.createCachedData();
writeFileSync(`${cacheFile}.part`, Buffer.concat([sumsOf(source, code), code]));
renameSync(`${cacheFile}.part`, cacheFile);
printed = '';
program.main(['schema'], quiet(program));
writeFileSync(join(root, 'dist', 'trial.schema.json'), printed);
