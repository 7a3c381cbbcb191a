'use strict';
// Stands before fastest-levenshtein in the bundles: it takes a quarter of a megabyte as it loads, and is asked
// only about a word that is not known.
let library;
const ready = () => (library ??= require('../../node_modules/fastest-levenshtein/mod.js'));
module.exports = { distance: (a, b) => ready().distance(a, b) };
