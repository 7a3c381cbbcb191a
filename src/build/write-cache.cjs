'use strict';
// Last step of the build: runs each bundle over examples and keeps the code V8 compiled on the way; then
// prints the schema that the examples name in their first line.
const { readdirSync, rmSync, writeFileSync } = require('node:fs');
const { join } = require('node:path');
const root = join(__dirname, '..', '..');
const { load, cacheOf } = require(join(root, 'bin', 'tallytare.js'));

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
for (const name of readdirSync(dist)) if (name.endsWith('.cache')) rmSync(join(dist, name));

let all;
for (const name of ['one', 'verdict', 'tallytare']) {
  const { program, script } = load(name);
  const io = quiet(program);
  for (const example of EXAMPLES) {
    printed = '';
    if (program.main(['verdict', join(root, example)], io) !== 0)
      throw new Error(`${example} does not pass:\n${printed}`);
  }
  writeFileSync(cacheOf(name), script.createCachedData());
  all = program;
}
printed = '';
all.main(['schema'], quiet(all));
writeFileSync(join(root, 'dist', 'trial.schema.json'), printed);
