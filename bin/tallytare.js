#!/usr/bin/env node
'use strict';
try {
  require('../dist/launch.cjs').load().program.start();
} catch (error) {
  process.stderr.write(`tallytare cannot start; "npm ci" in its folder builds it (${error.code ?? error.message})\n`);
  process.exitCode = 5;
}
