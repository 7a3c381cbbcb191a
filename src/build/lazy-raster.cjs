'use strict';
// Stands before pngjs, tiff and fflate in the bundles: they are asked only where a document is counted, so they are a
// bundle of their own beside them.
let libraries;
const ready = () => (libraries ??= require(`${__dirname}/raster.cjs`));
module.exports = {
  get PNG() {
    return ready().PNG;
  },
  get Unzlib() {
    return ready().Unzlib;
  },
  decode: (bytes, options) => ready().decode(bytes, options),
};
