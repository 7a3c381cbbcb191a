import { Option } from 'commander';
import type { Define } from './define.ts';
import { CATALOGUE } from '../figures/list.ts';
import { OUTPUT_NAMES, type OutputName } from '../output/schema/names.ts';
import { trialJsonSchema } from '../trial/schema/json-schema.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';

export const SCHEMAS = ['trial', ...OUTPUT_NAMES] as const;

/** `schema`: the JSON Schema of the trial file, or of a JSON output, for editors and validators. */
export function schema(of: 'trial' | OutputName, io: Io): number {
  const printed = of === 'trial' ? trialJsonSchema(CATALOGUE) : io.outputSchema()(of);
  io.out(`${JSON.stringify(printed, null, 2)}\n`);
  return EXIT.pass;
}

/** The command `schema` on the command line. */
export const schemaCommand: Define = (program, io, done) => {
  program
    .command('schema')
    .description('print the JSON Schema of the trial file, or of a JSON output')
    .addOption(
      new Option('--of <what>', 'the trial file, or the output of a command')
        .choices(SCHEMAS)
        .default('trial'),
    )
    .addHelpText(
      'after',
      `
Outputs are named after their command; summary is of verdict --summary,
pool-line of pool --format jsonl, cartridge of pool --cartridges.

Examples:
  tallytare schema > trial.schema.json
  tallytare schema --of verdict > verdict.schema.json`,
    )
    .action(({ of }: { of: 'trial' | OutputName }) => done(schema(of, io)));
};
