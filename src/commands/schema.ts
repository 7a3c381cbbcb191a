import { CATALOGUE } from '../figures/list.ts';
import { trialJsonSchema } from '../trial/schema/json-schema.ts';
import { EXIT } from './exit.ts';
import type { Io } from './io.ts';

/** `schema`: the JSON Schema of the trial file, for editors and validators. */
export function schema(io: Io): number {
  io.out(`${JSON.stringify(trialJsonSchema(CATALOGUE), null, 2)}\n`);
  return EXIT.pass;
}
