'use strict';
// Stands before canvas, which a library of the report asks for where there is one: nothing outside of the package is
// ever run, whatever lies in the folders above it.
throw new Error('canvas is not part of this package');
