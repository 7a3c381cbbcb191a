'use strict';
// Stands before commander in the bundles: a verdict on names alone is given without it.
let library;
const ready = () => (library ??= require('../../node_modules/commander/index.js'));
module.exports = {
  get Command() {
    return ready().Command;
  },
  get CommanderError() {
    return ready().CommanderError;
  },
  get InvalidArgumentError() {
    return ready().InvalidArgumentError;
  },
  get Option() {
    return ready().Option;
  },
};
