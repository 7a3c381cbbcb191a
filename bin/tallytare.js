#!/usr/bin/env node
'use strict';

// Before all else, in words that Nodes of long ago know: what stands below, they would stumble over.
const [major, minor] = process.versions.node.split('.').map(Number);
const tooOld = major < 20 || (major === 20 && minor < 16);

/** Where the bundle is, and how it is loaded with its compiled code. */
function installed() {
  const { Buffer } = require('node:buffer');
  const { readFileSync } = require('node:fs');
  const { join } = require('node:path');
  const { Script } = require('node:vm');
  const { crc32 } = require('node:zlib');

  const dist = join(__dirname, '..', 'dist');
  const filename = join(dist, 'tallytare.cjs');

  // Where the build keeps the code that V8 compiled of the bundle, by the very Node that may take it: V8 itself looks
  // at no more than its own version, and another build of that ends the process without a word.
  const cacheFile = join(dist, `tallytare-${process.version}-${process.platform}-${process.arch}.cache`);

  // The checksums of the bundle and of its compiled code stand before the code: V8 does not look at the bytes in it,
  // and one that has changed can end the process, or never let it end.
  const HEAD = 8;
  const sumsOf = (source, code) => {
    const head = Buffer.alloc(HEAD);
    head.writeUInt32LE(crc32(source), 0);
    head.writeUInt32LE(crc32(code), 4);
    return head;
  };

  // The compiled code of a bundle; undefined where there is none to rely on, and V8 compiles the bundle as usual.
  const compiled = (source) => {
    try {
      const cache = readFileSync(cacheFile);
      const code = cache.subarray(HEAD);
      return sumsOf(source, code).equals(cache.subarray(0, HEAD)) ? code : undefined;
    } catch (none) {
      // Named, since Nodes of long ago could not read this file otherwise.
      void none;
      return undefined;
    }
  };

  const load = () => {
    const source = readFileSync(filename);
    const script = new Script(source.latin1Slice(), { filename, cachedData: compiled(source) });
    return { program: script.runInThisContext()(require, dist), script, source };
  };

  return { load, cacheFile, sumsOf };
}

function start() {
  try {
    module.exports.load().program.start();
  } catch (error) {
    const full = error.code === 'EMFILE' || error.code === 'ENFILE';
    const why = error.code === 'ENOENT' ? 'it has not been built' : error.message;
    const root = require('node:path').join(__dirname, '..');
    process.stderr.write(
      full
        ? 'tallytare cannot start: too many files are open; "ulimit -n 1024" in this shell allows more\n'
        : `tallytare cannot start: ${why}; "npm ci && npm run build" in ${root} builds it\n`,
    );
    process.exitCode = 5;
  }
}

if (tooOld) {
  process.stderr.write(`tallytare needs Node 20.16 or later; this is ${process.version}\n`);
  process.exitCode = 5;
} else {
  module.exports = installed();
  if (require.main === module) start();
}
