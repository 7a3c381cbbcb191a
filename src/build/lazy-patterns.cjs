'use strict';
// Stands before picomatch in the bundles: few command lines hold a pattern, so it is a bundle of its own
// beside them.
let library;
const ready = () => (library ??= require(`${__dirname}/patterns.cjs`));
module.exports = Object.assign((...given) => ready()(...given), {
  scan: (...given) => ready().scan(...given),
});
