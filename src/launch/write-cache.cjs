'use strict';
// A step of the build: runs the bundle once over an example, then keeps the code V8 compiled on the way.
const { readFileSync, readdirSync, rmSync, writeFileSync } = require('node:fs');
const { join } = require('node:path');
const root = join(__dirname, '..', '..');
const { CACHE, load } = require(join(root, 'dist', 'launch.cjs'));

rmSync(CACHE, { force: true });
const { program, script } = load();
let printed = '';
const io = {
  root,
  colour: false,
  out: async (text) => void (printed += text),
  err: (text) => process.stderr.write(text),
  read: (file) => readFileSync(join(root, file)),
  list: (folder) => readdirSync(folder),
};

async function build() {
  const example = 'examples/harbour-street.yaml';
  for (const format of ['text', 'json']) {
    const code = await program.main(['verdict', example, '--format', format], io);
    if (code !== 0) throw new Error(`${example} gave exit code ${code}:\n${printed}`);
  }
  writeFileSync(CACHE, script.createCachedData());
  printed = '';
  await program.main(['schema'], io);
  writeFileSync(join(root, 'dist', 'trial.schema.json'), printed);
}
build().catch((error) => {
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
});
