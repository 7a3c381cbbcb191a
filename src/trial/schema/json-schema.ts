import * as z from 'zod/mini';
import type { Catalogue } from '../catalogue.ts';
import { descriptions, type JsonSchema, leafJson } from './leaf.ts';
import { trialSchema } from './trial.ts';

/**
 * The trial file as JSON Schema (2020-12): every key with its description, units and words. Editors get
 * numbers back their type: in a file a bare number is a number, though it is read as its digits.
 */
export function trialJsonSchema(catalogue: Catalogue): JsonSchema {
  const schema = z.toJSONSchema(trialSchema(catalogue), {
    target: 'draft-2020-12',
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      const leaf = leafJson.get(zodSchema);
      if (leaf !== undefined) {
        delete jsonSchema.type;
        Object.assign(jsonSchema, leaf);
      }
      const description = descriptions.get(zodSchema);
      if (description !== undefined) jsonSchema.description = description;
    },
  });
  return {
    $schema: schema.$schema,
    title: 'Consumable yield trial',
    description: 'A tallytare trial file: one trial of a toner lot in one machine.',
    ...schema,
  };
}
