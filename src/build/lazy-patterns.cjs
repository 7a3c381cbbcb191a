'use strict';
// Stands before picomatch in the bundle: few command lines hold a pattern, and it is not made ready at every start.
let library;
const ready = () => (library ??= require('../../node_modules/picomatch/posix.js'));
module.exports = Object.assign((...given) => ready()(...given), {
  scan: (...given) => ready().scan(...given),
});
