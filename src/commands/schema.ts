import type { Define } from './define.ts';
import { CATALOGUE } from '../figures/list.ts';
import { trialJsonSchema } from '../trial/schema/json-schema.ts';
import { EXIT } from '../world/exit.ts';
import type { Io } from '../world/io.ts';

/** `schema`: the JSON Schema of the trial file, for editors and validators. */
export function schema(io: Io): number {
  io.out(`${JSON.stringify(trialJsonSchema(CATALOGUE), null, 2)}\n`);
  return EXIT.pass;
}

/** The command `schema` on the command line. */
export const schemaCommand: Define = (program, io, done) => {
  program
    .command('schema')
    .description('print the JSON Schema of the trial file, for editors')
    .addHelpText('after', '\nExample:\n  tallytare schema > trial.schema.json')
    .action(() => done(schema(io)));
};
