'use strict';
// Stands before fast-string-width in the bundle: its expressions over all of Unicode are made only when a
// text needs them, which few do, and not at every start.
let width;
module.exports = (text) =>
  (width ??= require('../../node_modules/fast-string-width/dist/index.js').default)(text);
