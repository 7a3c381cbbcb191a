'use strict';
// Only reads the trial files of a folder and parses their YAML, one after the other: what judging them is held against.
const { readdirSync, readFileSync } = require('node:fs');
const { join } = require('node:path');
const { parse } = require('yaml');

const [, , folder] = process.argv;
for (const name of readdirSync(folder)) {
  if (name.endsWith('.yaml')) parse(readFileSync(join(folder, name), 'utf8'));
}
