'use strict';
// What the benchmark measures against: a program that does no more than parse the YAML of its argument.
const { readFileSync } = require('node:fs');
const { parse } = require('yaml');
parse(readFileSync(process.argv[2], 'utf8'));
