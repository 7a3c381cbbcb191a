import type { Catalogue } from '../catalogue.ts';
import { descriptions, type JsonSchema, leafJson } from './leaf.ts';
import { trialSchema } from './trial.ts';
import * as z from './zod.ts';

/**
 * The trial file as JSON Schema (2020-12): every key with its description, units and words. Editors get
 * numbers back their type: in a file a bare number is a number, though it is read as its digits.
 */
export function trialJsonSchema(catalogue: Catalogue): JsonSchema {
  const schema = z.toJSONSchema(trialSchema(catalogue), {
    target: 'draft-2020-12',
    io: 'input',
    unrepresentable: 'any',
    reused: 'ref',
    override: ({ zodSchema, jsonSchema }) => {
      const leaf = leafJson.get(zodSchema);
      if (leaf !== undefined) Object.assign(jsonSchema, leaf());
      const tuple = jsonSchema.prefixItems;
      if (tuple !== undefined) Object.assign(jsonSchema, { items: false, minItems: tuple.length });
      for (const [name, description] of Object.entries(descriptions.get(zodSchema) ?? {})) {
        const property = jsonSchema.properties?.[name];
        // A copy: the leaf under it stands under other keys too, which have descriptions of their own.
        if (jsonSchema.properties && typeof property === 'object')
          jsonSchema.properties[name] = { ...property, description };
      }
    },
  });
  return {
    $schema: schema.$schema,
    title: 'Consumable yield trial',
    description: 'A tallytare trial file: one trial of a toner lot in one machine.',
    ...schema,
  };
}
