'use strict';
// Stands before yaml in the bundle: it is asked only what is wrong with a text that cannot be read.
let library;
const ready = () => (library ??= require('../../node_modules/yaml/dist/index.js'));
module.exports = {
  get Composer() {
    return ready().Composer;
  },
  get Lexer() {
    return ready().Lexer;
  },
  get Parser() {
    return ready().Parser;
  },
  get Schema() {
    return ready().Schema;
  },
};
