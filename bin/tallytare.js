#!/usr/bin/env node
'use strict';
const { readFileSync } = require('node:fs');
const { join } = require('node:path');
const { Script } = require('node:vm');

// The bundle with the code V8 compiled when it was built. V8 refuses a cache that another version or
// another processor made, and compiles the bundle as usual; so it does where there is no cache.
const dist = join(__dirname, '..', 'dist');
const read = (name, encoding) => readFileSync(join(dist, name), encoding);
try {
  let cachedData;
  try {
    cachedData = read('tallytare.cache');
  } catch {
    // No cache: slower, and no worse.
  }
  const script = new Script(read('tallytare.cjs', 'latin1'), {
    filename: join(dist, 'tallytare.cjs'),
    cachedData,
  });
  const program = script.runInThisContext()(require, dist);
  if (require.main === module) program.start();
  else module.exports = { program, script, dist };
} catch (error) {
  process.stderr.write(
    `tallytare cannot start; "npm ci" in its folder builds it (${error.code ?? error.message})\n`,
  );
  process.exitCode = 5;
}
