import { parseArgs } from 'node:util';
import { fuzz } from './fuzz.ts';

// npm run fuzz -- [--seconds 60 | --count 1000] [--seed 1] [--from 0] [--keep FOLDER]
const { values } = parseArgs({
  options: {
    seconds: { type: 'string' },
    count: { type: 'string' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
    keep: { type: 'string' },
  },
});
const seconds = values.seconds ?? (values.count === undefined ? '60' : undefined);
const { inputs, findings, codes } = fuzz({
  seed: Number(values.seed),
  from: Number(values.from),
  ...(values.count !== undefined && { count: Number(values.count) }),
  ...(seconds !== undefined && { seconds: Number(seconds) }),
  ...(values.keep !== undefined && { keep: values.keep }),
  say: (text) => process.stdout.write(text),
});
for (const [command, ended] of [...codes].toSorted()) {
  const counts = [...ended].toSorted(([a], [b]) => Number(a) - Number(b));
  console.log(`${command.padEnd(8)} ${counts.map(([code, times]) => `exit ${code}: ${times}`).join(', ')}`);
}
console.log(`seed ${values.seed}: ${inputs} inputs, ${findings} findings`);
if (findings > 0) process.exitCode = 1;
