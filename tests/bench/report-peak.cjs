'use strict';
// Preloaded by the benchmark: tells the peak resident set, in MiB, when the process ends.
process.on('exit', () => process.stderr.write(`\n${process.resourceUsage().maxRSS / 1024}`));
