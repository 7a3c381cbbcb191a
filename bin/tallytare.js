#!/usr/bin/env node
'use strict';
const { readFileSync } = require('node:fs');
const { join } = require('node:path');
const { Script } = require('node:vm');

const dist = join(__dirname, '..', 'dist');

// Where the build keeps the code V8 compiled of a bundle, by the very Node that may take it: V8 itself looks at
// no more than its own version, and another build of that ends the process without a word.
const cacheOf = (name) => join(dist, `${name}-${process.version}-${process.platform}-${process.arch}.cache`);

// A bundle with its compiled code. V8 refuses what another kind of processor or other flags made, and compiles
// the bundle as usual; so it does where there is none.
function load(name) {
  let cachedData;
  try {
    cachedData = readFileSync(cacheOf(name));
  } catch {
    // No cache: slower, and no worse.
  }
  const filename = join(dist, `${name}.cjs`);
  const script = new Script(readFileSync(filename, 'latin1'), { filename, cachedData });
  return { program: script.runInThisContext()(require, dist), script };
}

// The command asked for most has bundles of its own, since loading is most of what it costs: one for a line of
// one name, which leaves a folder or a pattern to the next, and one for any other.
function bundlesFor([command, ...words]) {
  if (command !== 'verdict') return ['tallytare'];
  const name = words.length === 1 && (words[0] === '-' || !words[0].startsWith('-'));
  return name ? ['one', 'verdict'] : ['verdict'];
}

module.exports = { load, cacheOf };
if (require.main === module) {
  try {
    bundlesFor(process.argv.slice(2)).some((name) => load(name).program.start());
  } catch (error) {
    process.stderr.write(
      `tallytare cannot start; "npm ci" in its folder builds it (${error.code ?? error.message})\n`,
    );
    process.exitCode = 5;
  }
}
