import { findingsOf } from '../checks/findings.ts';
import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { harmless } from '../output/harmless.ts';
import { planCsv, planJson } from '../output/plan-data.ts';
import { planRecord } from '../output/plan-record.ts';
import { planText } from '../output/plan-text.ts';
import { reasonWords } from '../output/reason-words.ts';
import { planOf } from '../plan/plan.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { judgedTrial } from '../files/judge-file.ts';
import { quantityOption } from './options.ts';
import { refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';

export const PLAN_FORMATS = ['text', 'json', 'csv'] as const;

export interface PlanOptions {
  readonly limits?: readonly string[];
  readonly failing?: readonly string[];
  readonly record?: boolean;
  readonly draw?: string;
  readonly format: (typeof PLAN_FORMATS)[number];
}

/** `plan FILE`: what a trial asks for before it is run. */
export const plan = (file: string, options: PlanOptions, io: Io): number =>
  refusable(() => planned(file, options, io));

function planned(file: string, options: PlanOptions, io: Io): number {
  const shares = options.failing?.map(
    (share) => quantityOption('--failing', share, { unit: '%', least: 0.01, greatest: 99 }, io).value,
  );
  const { draw: seed, format } = options;
  if (seed !== undefined && (seed.trim() === '' || format === 'json')) {
    const why = format === 'json' ? 'is told as text or CSV' : 'needs a seed: any word or number';
    io.err(`tallytare: --draw ${why}\n`);
    return EXIT.usage;
  }
  const result = judgedTrial(file, options.limits ?? [], io);
  const drawing =
    seed === undefined ? null : { seed: seed.trim(), digest: (bytes: Uint8Array) => io.digest(bytes) };
  const made = planOf(result.trial, result.agreed, shares, drawing);
  const drawn = made.lot?.drawn;
  if (drawn && 'reason' in drawn) {
    io.err(`tallytare: ${harmless(file)}: nothing can be drawn: ${harmless(reasonWords(drawn.reason))}\n`);
    return EXIT.unreadable;
  }
  const write = {
    text: () => (options.record ? planRecord(made) : planText(made, file, findingsOf(result), paintFor(io))),
    json: () => planJson(made, toolName()),
    csv: () => planCsv(made),
  };
  io.out(write[format]());
  return EXIT.pass;
}

/** The command `plan` on the command line. */
export const planCommand: Define = (program, io, done) => {
  program
    .command('plan')
    .description('say what a trial asks for before it is run')
    .argument('<file>', 'a trial with its target; - reads standard input')
    .option('--failing <percent>', 'share of failing cartridges to be ruled out; may be given again', collect)
    .addOption(
      new Option(
        '--draw <seed>',
        'which cartridges of the lot to take, drawn by any word or number',
      ).conflicts('record'),
    )
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(PLAN_FORMATS).default('text'))
    .addOption(new Option('--record', 'a sheet to fill in by hand at the machine').conflicts('format'))
    .addHelpText(
      'after',
      '\nExamples:\n  tallytare plan examples/before-the-run.yaml\n  tallytare plan examples/lot-to-try.yaml --draw 4711',
    )
    .action((file: string, options: PlanOptions) => done(plan(file, options, io)));
};
