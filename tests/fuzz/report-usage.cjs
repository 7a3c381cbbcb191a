'use strict';
// Preloaded into the executable: tells, as the process ends, its peak resident set in MiB and the
// milliseconds of processor time it took, which other work on the machine hardly changes.
process.on('exit', () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  process.stderr.write(`\n${maxRSS / 1024} ${(userCPUTime + systemCPUTime) / 1000}`);
});
