'use strict';
// Stands before yaml in the bundles: it is asked only what is wrong with a text that cannot be read, so it is
// a bundle of its own beside them.
let library;
const ready = () => (library ??= require(`${__dirname}/yaml.cjs`));
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
