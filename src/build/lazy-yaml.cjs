'use strict';
// Stands before yaml in the bundles: it is asked only about a text that the quick reader refuses, and where a note is
// to be written, so it is a bundle of its own beside them.
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
  isAlias: (node) => ready().isAlias(node),
  isMap: (node) => ready().isMap(node),
  isScalar: (node) => ready().isScalar(node),
  isSeq: (node) => ready().isSeq(node),
  parseDocument: (text, options) => ready().parseDocument(text, options),
};
