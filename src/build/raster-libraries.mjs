// What raster.cjs is made of.
export { Unzlib } from 'fflate';
export { PNG } from 'pngjs';
export { decode } from 'tiff';
