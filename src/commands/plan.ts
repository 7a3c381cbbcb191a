import { findingsOf } from '../checks/findings.ts';
import { Option } from 'commander';
import { type Define, collect } from './define.ts';
import { planCsv, planJson } from '../output/plan-data.ts';
import { planRecord } from '../output/plan-record.ts';
import { planText } from '../output/plan-text.ts';
import { planOf } from '../plan/plan.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { judgedTrial } from '../files/judge-file.ts';
import { quantityOption } from './options.ts';
import { refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';

export const PLAN_FORMATS = ['text', 'json', 'csv'] as const;

export interface PlanOptions {
  readonly limits?: readonly string[];
  readonly failing?: readonly string[];
  readonly record?: boolean;
  readonly format: (typeof PLAN_FORMATS)[number];
}

/** `plan FILE`: what a trial asks for before it is run. */
export const plan = (file: string, options: PlanOptions, io: Io): number =>
  refusable(() => planned(file, options, io));

function planned(file: string, options: PlanOptions, io: Io): number {
  const shares = options.failing?.map(
    (share) => quantityOption('--failing', share, { unit: '%', least: 0.01, greatest: 99 }, io).value,
  );
  const result = judgedTrial(file, options.limits ?? [], io);
  const made = planOf(result.trial, result.agreed, shares);
  const write = {
    text: () => (options.record ? planRecord(made) : planText(made, file, findingsOf(result), paintFor(io))),
    json: () => planJson(made),
    csv: () => planCsv(made),
  };
  io.out(write[options.format]());
  return EXIT.pass;
}

/** The command `plan` on the command line. */
export const planCommand: Define = (program, io, done) => {
  program
    .command('plan')
    .description('say what a trial asks for before it is run')
    .argument('<file>', 'a trial with its target; - reads standard input')
    .option('--failing <percent>', 'share of failing cartridges to be ruled out; may be given again', collect)
    .option('--limits <file|preset>', 'limits laid over the file’s own; may be given again', collect)
    .addOption(new Option('--format <format>', 'how to print').choices(PLAN_FORMATS).default('text'))
    .addOption(new Option('--record', 'a sheet to fill in by hand at the machine').conflicts('format'))
    .addHelpText('after', '\nExample:\n  tallytare plan examples/before-the-run.yaml')
    .action((file: string, options: PlanOptions) => done(plan(file, options, io)));
};
