'use strict';
// Stands before papaparse in the bundles: it is asked only where a trial names a table, so it is a bundle of its own
// beside them.
let library;
module.exports = {
  get Parser() {
    return (library ??= require(`${__dirname}/tables.cjs`)).Parser;
  },
};
