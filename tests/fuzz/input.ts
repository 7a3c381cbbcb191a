import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { FIGURES } from '../../src/figures/list.ts';
import { run } from '../run.ts';
import { COMMAND_LINES, type Shape } from './commands.ts';
import { mutateBytes } from './mutate-bytes.ts';
import { mutateStructure } from './mutate-structure.ts';
import { mutateTokens, scalarsOf } from './mutate-tokens.ts';
import { Random } from './random.ts';

/** One thing to try: a command line and the files it is tried on. */
export interface Input {
  readonly argv: readonly string[];
  readonly shape: Shape;
  /** File that the command is to write, null where it writes none. */
  readonly writes: string | null;
  readonly files: Readonly<Record<string, Buffer>>;
}

/** The examples, by what they are. */
export interface Examples {
  readonly trials: readonly string[];
  /** Trials that pool with one another. */
  readonly pooled: readonly string[];
  /** Trials that make a line of toner against coverage with one another, and mixes of pages. */
  readonly forecast: readonly string[];
  readonly mixes: readonly string[];
  readonly limits: readonly string[];
  /** Every key and value in any of them. */
  readonly scalars: readonly string[];
}

export function readExamples(root: string): Examples {
  const textsIn = (...folder: string[]): string[] =>
    readdirSync(join(root, ...folder))
      .filter((name) => name.endsWith('.yaml'))
      .toSorted()
      .map((name) => readFileSync(join(root, ...folder, name), 'utf8'));
  const trials = textsIn('examples');
  const pooled = textsIn('examples', 'pool');
  const forecast = textsIn('examples', 'forecast');
  const mixes = textsIn('examples', 'mixes');
  const limits = [...textsIn('examples', 'limits'), ...textsIn('shared', 'limits')];
  const scalars = [...new Set([...trials, ...pooled, ...limits].flatMap(scalarsOf))];
  return { trials, pooled, forecast, mixes, limits, scalars };
}

/** Changes to one file: mostly few, at most eight. What is inside comes first: bytes would spoil it for the parser. */
function mutated(
  text: string,
  others: readonly string[],
  scalars: readonly string[],
  random: Random,
): Buffer {
  const counts = { structure: 0, tokens: 0, bytes: 0 };
  // Half of the files are to be read and judged; of the others most are refused, which is to be tried too.
  const gentle = random.once(2);
  const kinds = ['structure', 'tokens', ...(gentle ? [] : ['bytes' as const])] as const;
  // One kind alone now and then, so that its faults are not always covered by another's.
  const only = random.once(3) ? [random.pick(kinds)] : kinds;
  for (let change = random.times(8); change > 0; change--) counts[random.pick(only)] += 1;
  const other = random.pick(others);
  let changed = counts.structure > 0 ? mutateStructure(text, random, other, counts.structure, gentle) : text;
  for (let done = 0; done < counts.tokens; done++) changed = mutateTokens(changed, random, scalars, gentle);
  let bytes = Buffer.from(changed);
  for (let done = 0; done < counts.bytes; done++) bytes = Buffer.from(mutateBytes(bytes, random));
  return bytes;
}

const LIMITS = 'limits/house.yaml';
const MIX = 'mix.yaml';
const NEW = 'new.yaml';
const SEALED = 'sealed.yaml';

/** The trials that a command has something to say of. */
function basesOf(command: string | undefined, examples: Examples, all: readonly string[]): readonly string[] {
  if (command === 'pool') return examples.pooled;
  if (command === 'forecast') return examples.forecast;
  if (command === 'marks') return all.filter((text) => text.includes('marks:'));
  return all;
}

/** A trial, and its seal with some of its bytes changed. */
function sealed(trial: string, random: Random): Record<string, Buffer> {
  const { written } = run(['seal', SEALED], { [SEALED]: trial });
  return Object.fromEntries([
    [SEALED, Buffer.from(trial)],
    ...Object.entries(written).map(([name, text]): [string, Buffer] => {
      let bytes = Buffer.from(text);
      for (let change = random.times(3); change > 0; change--)
        bytes = Buffer.from(mutateBytes(bytes, random));
      return [name, bytes];
    }),
  ]);
}

/** The input of a number: the same for the same seed and number. */
export function inputOf(seed: number, number: number, examples: Examples): Input {
  const random = new Random(seed, number);
  const [line, shape] = random.pick(COMMAND_LINES);
  const words = line.split(' ');
  const files: Record<string, Buffer> = {};
  const all = [...examples.trials, ...examples.pooled];
  const bases = random.once(8) ? all : basesOf(words[0], examples, all);
  const used = new Set<string>();
  for (const name of words.filter((word) => /^[A-D]$/.test(word))) {
    // The same trial twice is refused, and rightly: then little else of pooling would be tried.
    const base = random.pick(bases.filter((text) => !used.has(text)));
    used.add(base);
    const whole = words.length > 2 && ['pool', 'forecast'].includes(words[0] ?? '') && random.once(2);
    files[`${name.toLowerCase()}.yaml`] = whole
      ? Buffer.from(base)
      : mutated(base, all, examples.scalars, random);
  }
  if (words.includes('SEALED')) Object.assign(files, sealed(random.pick(all), random));
  const limits = random.pick(examples.limits);
  files[LIMITS] = words.includes('LIMITS')
    ? mutated(limits, examples.limits, examples.scalars, random)
    : Buffer.from(limits);
  if (words.includes('MIX')) {
    const mix = random.pick(examples.mixes);
    files[MIX] = random.once(2) ? Buffer.from(mix) : mutated(mix, examples.mixes, examples.scalars, random);
  }
  const figure = random.pick(FIGURES).name;
  const meaning: Readonly<Record<string, string>> = { LIMITS, MIX, NEW, SEALED, FIGURE: figure };
  const argv = words.map((word) =>
    /^[A-D]$/.test(word) ? `${word.toLowerCase()}.yaml` : (meaning[word] ?? word),
  );
  return { argv, shape, writes: words.includes('NEW') ? NEW : null, files };
}
