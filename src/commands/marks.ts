import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { marksOn, type RotatingPart, rotatingPartsOf, TOLERANCE } from '../figures/repeating-marks.ts';
import { marksJson, marksText, type Traced } from '../output/marks.ts';
import { type Kind, readQuantity } from '../trial/quantity.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { EXIT } from '../world/exit.ts';
import { EXPLAIN_FORMATS } from './explain.ts';
import type { Io } from '../world/io.ts';
import { trialIn } from '../files/judge-file.ts';
import { readOption } from './options.ts';
import { refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';

export interface MarksOptions {
  readonly distance?: readonly string[];
  readonly part?: readonly string[];
  readonly tolerance?: string;
  readonly format: 'text' | 'json';
}

const MILLIMETRES: Kind = { unit: 'mm', least: 0 };

/**
 * `marks [FILE]`: which rotating part a repeating mark comes from. Distances and parts are a trial's, and
 * those given as options.
 */
export function marks(file: string | undefined, options: MarksOptions, io: Io): number {
  const quantity = (option: string, text: string, kind: Kind): Decimal => {
    const outcome = readQuantity(text, kind);
    const none = 'value' in outcome && outcome.value.value.isZero();
    return readOption(option, none ? { fault: { code: 'not-positive', written: text } } : outcome, io).value;
  };
  const found: Pick<Traced, 'distance' | 'slot' | 'note'>[] = (options.distance ?? []).map((text) => ({
    distance: quantity('--distance', text, MILLIMETRES),
    slot: null,
    note: null,
  }));
  const parts = (options.part ?? []).map((text): RotatingPart => {
    const cut = text.lastIndexOf('=');
    return {
      part: text.slice(0, Math.max(0, cut)) || text,
      diameter: quantity('--part', text.slice(cut + 1), MILLIMETRES),
    };
  });
  const tolerance =
    options.tolerance === undefined
      ? TOLERANCE
      : quantity('--tolerance', options.tolerance, { unit: '%', least: 0, greatest: 100 });
  if (file !== undefined) {
    const { trial } = trialIn(file, io);
    parts.push(...rotatingPartsOf(trial.data.machine));
    for (const { prints } of [trial.run, ...(trial.reference ? [trial.reference] : [])])
      found.push(
        ...prints.marks.map(({ distance, slot, note }) => ({ distance: distance.value, slot, note })),
      );
  }
  const given = options.distance?.length ?? 0;
  if (found.length === 0 || (parts.length === 0 && found.length === given)) {
    const missing = found.length === 0 ? 'a distance (--distance 94.3)' : 'a rotating part (--part drum=30)';
    io.err(`tallytare: marks needs ${missing}, given or in the trial\n`);
    return EXIT.usage;
  }
  const traced = found.map((one): Traced => ({
    ...one,
    marks: parts.length === 0 ? null : marksOn(one.distance, parts, tolerance),
  }));
  io.out(
    options.format === 'json'
      ? marksJson(traced, tolerance, toolName())
      : marksText(traced, tolerance, paintFor(io)),
  );
  return EXIT.pass;
}

/** The command `marks` on the command line. */
export const marksCommand: Define = (program, io, done) => {
  program
    .command('marks')
    .description('find the rotating part that a repeating mark comes from')
    .argument('[file]', 'a trial with its machine’s rotating parts and marks; - reads standard input')
    .option('--distance <mm>', 'distance from one mark to the next; may be given again', collect)
    .option('--part <name=mm>', 'a rotating part with its diameter; may be given again', collect)
    .option('--tolerance <percent>', 'how far distance and part may be apart; 2 unless given')
    .addOption(new Option('--format <format>', 'how to print').choices(EXPLAIN_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExample:\n  tallytare marks --distance 94.3 --part drum=30 --part "charge roller=12"',
    )
    .action((file: string | undefined, options: MarksOptions) =>
      done(refusable(() => marks(file, options, io))),
    );
};
