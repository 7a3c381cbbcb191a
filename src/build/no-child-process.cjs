'use strict';
// Stands in for node:child_process in the bundle; see build.mjs.
module.exports = {};
