import * as z from 'zod';
import { compareSchema, recheckSchema } from './archive.ts';
import { coverageSchema } from './coverage.ts';
import { forecastSchema } from './forecast.ts';
import type { OutputName } from './names.ts';
import { planSchema } from './plan.ts';
import { cartridgeSchema, lotSchema, poolLineSchema, poolSchema, precisionSchema } from './pool.ts';
import { explainSchema, marksSchema } from './reference.ts';
import { summarySchema, verdictSchema } from './verdict.ts';

const SCHEMAS: Readonly<Record<OutputName, z.ZodType>> = {
  verdict: verdictSchema,
  summary: summarySchema,
  plan: planSchema,
  pool: poolSchema,
  'pool-line': poolLineSchema,
  cartridge: cartridgeSchema,
  precision: precisionSchema,
  lot: lotSchema,
  forecast: forecastSchema,
  coverage: coverageSchema,
  compare: compareSchema,
  recheck: recheckSchema,
  explain: explainSchema,
  marks: marksSchema,
};

/** An output as JSON Schema (2020-12). */
export const outputSchema = (name: OutputName): object =>
  z.toJSONSchema(SCHEMAS[name], { target: 'draft-2020-12' });
