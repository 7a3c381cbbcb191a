import { findingsOf } from '../checks/findings.ts';
import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { CATALOGUE } from '../figures/list.ts';
import { isFileName, partsOf } from '../judge/limits.ts';
import { harmless } from '../output/harmless.ts';
import { CARRIED, type Carried, newTrial, type NewTrial, OWN_COMMENT } from '../output/new-trial.ts';
import { messageOf } from '../output/words.ts';
import { readTrial } from '../trial/read.ts';
import { dataAt } from '../note/change.ts';
import { type Data, readSource } from '../text/source.ts';
import { scalar } from '../text/yaml-scalar.ts';
import type { Trial } from '../trial/trial.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import { EXIT } from '../world/exit.ts';
import { sameFile } from '../files/same-file.ts';
import type { Io } from '../world/io.ts';
import { judgeFile, trialIn } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { Refused, refusable } from '../world/refused.ts';
import { wrote } from '../world/wrote.ts';

/** What a new trial may be given on the command line, as commander names it. */
export interface StartOptions {
  readonly output?: string;
  readonly force?: boolean;
  readonly from?: string;
  readonly title?: string;
  readonly id?: string;
  readonly operator?: string;
  readonly started?: string;
  readonly lot?: string;
  readonly machine?: string;
  readonly serial?: string;
  readonly speed?: string;
  readonly pages?: string;
  readonly batch?: string;
  readonly hoursPerDay?: string;
  readonly claim?: string;
  readonly coverage?: string;
  readonly duplexShare?: string;
  readonly paper?: string;
  readonly grammage?: string;
  readonly slots?: string;
  readonly ratedYield?: string;
  readonly limits?: readonly string[];
}

/** Where the file is written unless one is named. */
export const NEW_FILE = 'trial.yaml';

/** `start [FILE]`: a new trial file, written whole, never over another one unless told. */
export const start = (file: string | undefined, options: StartOptions, io: Io): number =>
  refusable(() => begun(file, options, io));

function begun(file: string | undefined, options: StartOptions, io: Io): number {
  if (file !== undefined && options.output !== undefined && file !== options.output) {
    io.err('tallytare: the file to write is named twice; give it once\n');
    return EXIT.usage;
  }
  const target = file ?? options.output ?? NEW_FILE;
  if (options.from !== undefined && target !== '-' && sameFile(options.from, target, io)) {
    io.err(
      `tallytare: ${harmless(target)} is the trial to start from, and would lose its readings; give the new one a name of its own\n`,
    );
    return EXIT.usage;
  }
  const earlier = options.from === undefined ? null : earlierTrial(options.from, target, io);
  const slots = options.slots?.split(',').map((slot) => slot.trim()) ?? earlier?.slots ?? [];
  const trial: NewTrial = {
    ...options,
    schema: schemaFrom(target, io),
    title: options.title ?? titleOf(options),
    slots,
    limits: options.limits ?? [],
    operator: options.operator ?? earlier?.operator,
    target: planned(options, earlier?.target ?? new Map()),
    cartridge: (slot) => {
      const known = earlier?.cartridges.get(slot) ?? {};
      // A life in pages is that of a drum or a belt: what is said of the cartridges is not said of it.
      const anew = known.life === undefined ? options.ratedYield : undefined;
      return anew === undefined ? known : { ...known, ratedYield: anew };
    },
    carried: without(earlier?.carried ?? new Map(), options),
    capacity: earlier?.capacity,
    from: options.from ?? null,
    alsoTaken: earlier === null ? [] : alsoTaken(earlier, options, slots),
  };
  const text = fitting(trial, target, io);
  refuseFaulty(text, target, io);
  if (target === '-') {
    io.out(text);
    return EXIT.pass;
  }
  if (!wrote(target, () => io.write(target, text, options.force ?? false), io)) return EXIT.other;
  io.out(
    `${harmless(target)} is begun. Next: fill in what is planned, then "tallytare plan ${harmless(target)}".\n`,
  );
  return EXIT.pass;
}

/**
 * The file as it stands, where its limits fit it. Limits taken over may be on patches or cartridges that the
 * new trial has not yet: they are kept as a comment until it has.
 */
function fitting(trial: NewTrial, target: string, io: Io): string {
  const text = newTrial(trial);
  const limits = trial.carried.get('limits');
  if (limits === undefined) return text;
  const asWritten: Io = {
    ...io,
    read: (file) => (file === target ? new TextEncoder().encode(text) : io.read(file)),
  };
  const findings = findingsOf(judgeFile(target, [], new LimitsFiles(asWritten), asWritten));
  if (!findings.some(({ problem }) => problem.code === 'limit-of-unknown-part')) return text;
  const later = [
    '# Some of the earlier limits are on parts this trial does not list yet; take the # out once it does.',
    'limits:',
    ...limits.map((line) => `# ${line}`),
  ];
  return newTrial({ ...trial, carried: new Map([...trial.carried, ['limits', later]]) });
}

/** Options that say what is planned, by their keys. */
const TARGET = { pages: 'pages', batch: 'batch', hoursPerDay: 'hours_per_day', claim: 'claim' } as const;

/** What is planned: as in an earlier trial, but for what an option says anew. */
function planned(options: StartOptions, earlier: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const said = Object.entries(TARGET).flatMap(([option, key]) => {
    const value = options[option as keyof typeof TARGET];
    return value === undefined ? [] : [[key, scalar(value)] as const];
  });
  return new Map([...earlier, ...said]);
}

/** Values that are taken over, where no option says them anew. */
function alsoTaken(earlier: Earlier, options: StartOptions, slots: readonly string[]): string[] {
  const kept = slots.length === 0 ? [null] : slots;
  const rated = kept.some((slot) => earlier.cartridges.get(slot)?.ratedYield !== undefined);
  return [
    ...(earlier.operator !== undefined && options.operator === undefined ? ['operator'] : []),
    ...(rated && options.ratedYield === undefined ? ['rated yields'] : []),
  ];
}

const titleOf = ({ lot, machine }: StartOptions): string =>
  [lot === undefined ? 'New trial' : `Lot ${lot}`, machine && `in ${machine}`].filter(Boolean).join(' ');

/** The schema as the new file finds it: by a path of its own where it stands in this project, else by the whole one. */
function schemaFrom(target: string, io: Io): string {
  const schema = join(io.root, 'dist', 'trial.schema.json');
  const folder = target === '-' ? '.' : dirname(target);
  const inside = !relative(io.root, resolve(folder)).startsWith('..');
  const path = inside ? relative(resolve(folder), schema) : schema;
  return path.split(sep).join('/');
}

/** What a new trial takes over from an earlier one. */
interface Earlier {
  readonly carried: ReadonlyMap<Carried, readonly string[]>;
  readonly slots: readonly string[];
  readonly capacity: string | undefined;
  readonly operator: string | undefined;
  /** Keys of its target, and their values as YAML. */
  readonly target: ReadonlyMap<string, string>;
  /** What its first cartridge of each slot says for any other. */
  readonly cartridges: ReadonlyMap<string | null, { readonly ratedYield?: string; readonly life?: string }>;
}

/** An option says it anew. */
function without(
  carried: ReadonlyMap<Carried, readonly string[]>,
  options: StartOptions,
): ReadonlyMap<Carried, readonly string[]> {
  const { coverage, duplexShare, slots } = options;
  const anew: readonly (readonly [Carried, unknown])[] = [
    ['coverage', coverage ?? slots],
    ['non_image_usage', slots],
    ['duplex_share', duplexShare],
    ['target', Object.keys(TARGET).some((option) => options[option as keyof typeof TARGET] !== undefined)],
  ];
  return new Map([...carried].filter(([name]) => !anew.some(([one, said]) => one === name && said)));
}

/**
 * The sections of an earlier trial: without what was read in it, and with its limits files named as the
 * new trial finds them. @throws Refused
 */
function earlierTrial(file: string, target: string, io: Io): Earlier {
  const { trial, source } = trialIn(file, io);
  const carried = new Map<Carried, readonly string[]>();
  for (const name of CARRIED) {
    const excerpt = source.excerpt(name);
    if (excerpt === null) continue;
    const lines = [...excerpt.lines];
    /** Writes another value where one stands. */
    const rewrite = (path: Path, value: string, other: string): void => {
      const { line, column } = source.place({ path });
      const before = lines[line - excerpt.from];
      const written = [value, JSON.stringify(value), `'${value}'`].find((form) =>
        before?.startsWith(form, column - 1),
      );
      if (before === undefined || written === undefined) return;
      lines[line - excerpt.from] =
        before.slice(0, column - 1) + other + before.slice(column - 1 + written.length);
    };
    const { sheets_used: sheets } = trial.data.paper ?? {};
    if (name === 'paper' && sheets) rewrite(['paper', 'sheets_used'], sheets.text, '');
    if (name === 'limits') {
      for (const [path, before, after] of movedFiles(trial, file, target))
        rewrite(path, before, scalar(after));
    }
    carried.set(
      name,
      lines.filter((line) => !OWN_COMMENT.test(line)),
    );
  }
  const { waste_container: waste } = trial.data;
  return {
    carried,
    slots: [...new Set(trial.run.cartridges.flatMap(({ slot }) => slot ?? []))],
    capacity: (Array.isArray(waste) ? waste[0] : waste)?.capacity?.text,
    operator: (typeof trial.data.trial === 'string' ? null : trial.data.trial.operator) ?? undefined,
    target: targetIn(source.data),
    cartridges: cartridgesIn(trial),
  };
}

/** What an earlier trial planned, as it is written. */
function targetIn(data: Data): ReadonlyMap<string, string> {
  const target = dataAt(data, ['target']);
  if (target == null || typeof target !== 'object') return new Map();
  return new Map(
    Object.entries(target).flatMap(([key, value]) => {
      if (typeof value === 'string') return [[key, scalar(value)] as const];
      if (value === null) return [];
      const inside = Object.entries(value).flatMap(([name, one]) =>
        typeof one === 'string' ? [`${name}: ${scalar(one)}`] : [],
      );
      return [[key, `{${inside.join(', ')}}`] as const];
    }),
  );
}

function cartridgesIn({ run, data }: Trial): Earlier['cartridges'] {
  const found = new Map<string | null, { ratedYield?: string; life?: string }>();
  for (const { slot, path } of run.cartridges) {
    const own = data.cartridges?.[path.at(-1) as number];
    const { ratedYield = own?.rated_yield?.text, life = own?.life === 'pages' ? own.life : undefined } =
      found.get(slot) ?? {};
    found.set(slot, { ...(ratedYield == null ? {} : { ratedYield }), ...(life == null ? {} : { life }) });
  }
  return found;
}

/** The limits files a trial names, as they are found from another folder. */
function movedFiles(
  trial: Trial,
  file: string,
  target: string,
): (readonly [path: Path, before: string, after: string])[] {
  const [there, here] = [folderOf(file), folderOf(target)];
  if (resolve(there) === resolve(here)) return [];
  return partsOf(trial.limits).flatMap((part) => {
    if (!('name' in part) || !isFileName(part.name) || isAbsolute(part.name)) return [];
    const moved = relative(here, join(there, part.name)).split(sep).join('/');
    return [[part.path, part.name, moved] as const];
  });
}

const folderOf = (file: string): string => (file === '-' ? '.' : dirname(file));

/** The keys that options fill in, longest first; a value that cannot stand there is the option's fault. */
const OPTION_OF: readonly (readonly [key: string, option: string])[] = [
  ['trial.title', '--title'],
  ['trial.id', '--id'],
  ['trial.operator', '--operator'],
  ['trial.started', '--started'],
  ['lot', '--lot'],
  ['machine.label', '--machine'],
  ['machine.serial', '--serial'],
  ['machine.rated_speed', '--speed'],
  ['target.pages', '--pages'],
  ['target.batch', '--batch'],
  ['target.hours_per_day', '--hours-per-day'],
  ['target.claim', '--claim'],
  ['duplex_share', '--duplex-share'],
  ['paper.size', '--paper'],
  ['paper.grammage', '--grammage'],
  ['limits', '--limits'],
];

/** A new trial that would not read was given something that cannot stand there. @throws Refused */
function refuseFaulty(text: string, target: string, io: Io): void {
  const source = readSource(target, text);
  const { trial, problems } = readTrial(source, CATALOGUE);
  if (trial !== null) return;
  for (const problem of problems) {
    const path = dotted(problem.path);
    const option =
      OPTION_OF.find(([key]) => path.startsWith(key))?.[1] ??
      (path.endsWith('rated_yield') ? '--rated-yield' : undefined) ??
      (problem.atKey || problem.code === 'duplicate-key' || path.endsWith('slot') ? '--slots' : '--coverage');
    io.err(`tallytare: ${option}: ${harmless(messageOf(problem))}\n`);
  }
  throw new Refused(EXIT.usage);
}

/** The command `start` on the command line. */
export const startCommand: Define = (program, io, done) => {
  program
    .command('start')
    .description('begin the file of a new trial')
    .argument('[file]', `the file to write; ${NEW_FILE} unless said, - prints it`)
    .option('--output <file>', 'the file to write, as an option')
    .option('--force', 'write over a file that is there')
    .addOption(
      new Option(
        '--from <file>',
        'take operator, target, machine, instruments, paper, limits, rated yields from an earlier trial',
      ).conflicts(['machine', 'serial', 'speed', 'paper', 'grammage', 'limits']),
    )
    .option('--title <text>', 'what is tried, in a line')
    .option('--id <text>', 'number the trial is filed under')
    .option('--operator <name>', 'who does it')
    .option('--started <day>', 'when it begins')
    .option('--lot <text>', 'lot under test')
    .option('--slots <names>', 'colour positions, with commas between them')
    .option('--rated-yield <pages>', 'pages the supplier claims for a cartridge')
    .option('--machine <label>', 'name of the machine in the house')
    .option('--serial <text>', 'its serial number')
    .option('--speed <pages>', 'pages per minute it is rated for')
    .option('--pages <n>', 'pages to print')
    .option('--batch <n>', 'pages in a batch')
    .option('--hours-per-day <n>', 'printing hours in a day')
    .option('--claim <pages>', 'yield to be claimed')
    .option('--coverage <percent>', 'coverage of every slot; 5 % unless said')
    .option('--duplex-share <percent>', 'share of the pages on two-sided sheets; 0 % unless said')
    .option('--paper <size>', 'A4 unless said')
    .option('--grammage <g/m²>', '80 g/m² unless said')
    .option('--limits <file|preset>', 'what it must keep to; may be given again', collect)
    .addHelpText(
      'after',
      '\nExit codes: 0 written; 3 the earlier trial could not be read; 4 wrong usage;\n5 not written, such as over a file that is there.\n\nExample:\n  tallytare start lot-k20.yaml --lot K-20 --slots black,cyan --pages 12000',
    )
    .action((file: string | undefined, options: StartOptions) => done(start(file, options, io)));
};
