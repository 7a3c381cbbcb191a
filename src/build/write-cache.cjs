'use strict';
// Last step of the build: runs the bundle once over an example and keeps the code V8 compiled on the
// way; then prints the schema that the examples name in their first line.
const { readFileSync, readdirSync, rmSync, writeFileSync } = require('node:fs');
const { join } = require('node:path');
const root = join(__dirname, '..', '..');
const CACHE = join(root, 'dist', 'tallytare.cache');

rmSync(CACHE, { force: true });
const { program, script } = require(join(root, 'bin', 'tallytare.js'));
let printed = '';
const io = {
  root,
  colour: false,
  out: (text) => void (printed += text),
  err: (text) => process.stderr.write(text),
  read: (file) => readFileSync(join(root, file)),
  list: (folder) => readdirSync(folder),
};

const examples = ['examples/harbour-street.yaml', 'examples/four-colour-pass.yaml'];
const failed = examples.find((example) => program.main(['verdict', example], io) !== 0);
if (failed === undefined) {
  writeFileSync(CACHE, script.createCachedData());
  printed = '';
  program.main(['schema'], io);
  writeFileSync(join(root, 'dist', 'trial.schema.json'), printed);
} else {
  process.stderr.write(`${failed} does not pass:\n${printed}`);
  process.exitCode = 1;
}
