#!/usr/bin/env node
'use strict';
const { readFileSync } = require('node:fs');
const { join } = require('node:path');
const { Script } = require('node:vm');

const dist = join(__dirname, '..', 'dist');

// A bundle with the code V8 compiled when it was built. V8 refuses a cache that another version or another
// processor made, and compiles the bundle as usual; so it does where there is no cache.
function load(name) {
  let cachedData;
  try {
    cachedData = readFileSync(join(dist, `${name}.cache`));
  } catch {
    // No cache: slower, and no worse.
  }
  const filename = join(dist, `${name}.cjs`);
  const script = new Script(readFileSync(filename, 'latin1'), { filename, cachedData });
  return { program: script.runInThisContext()(require, dist), script };
}

module.exports = { load };
if (require.main === module) {
  try {
    // The command asked for most has bundles of its own, since loading is most of what it costs: one for a
    // line of one name, which it may hand on, and one for any other.
    const [command, ...words] = process.argv.slice(2);
    const handedOn = !(command === 'verdict' && words.length === 1 && load('one').program.start());
    if (handedOn) load(command === 'verdict' ? 'verdict' : 'tallytare').program.start();
  } catch (error) {
    process.stderr.write(
      `tallytare cannot start; "npm ci" in its folder builds it (${error.code ?? error.message})\n`,
    );
    process.exitCode = 5;
  }
}
