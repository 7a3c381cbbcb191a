/**
 * For those who build on tallytare: the functions that the commands call, pure, bytes in and data out. What `verdict`
 * prints as JSON is `resultData`.
 *
 *     const source = readSource('trial.yaml', text);
 *     const { trial, problems } = readTrial(source, CATALOGUE);
 *     if (trial) assess(trial, source, layersOf(trial), FIGURES, problems.map((one) => find(one, source)));
 */
import { CATALOGUE } from '../figures/list.ts';
import { layerOf, type LimitLayer, partsOf } from '../judge/limits.ts';
import type { Trial } from '../trial/trial.ts';

export { CATALOGUE, FIGURES } from '../figures/list.ts';
export type { Derived, Figure } from '../figures/figure.ts';
export { assess, type Assessed, type Invalid, type Result } from '../judge/assess.ts';
export { caveatsOf, strictly } from '../checks/caveats.ts';
export { findingsOf } from '../checks/findings.ts';
export { cartridgesOf, type PooledCartridge } from '../pool/cartridge.ts';
export { compareGroups } from '../pool/against.ts';
export { type Group, groupsOf, poolGroup } from '../pool/group.ts';
export { resultData } from '../output/json.ts';
export { find, type Finding } from '../text/finding.ts';
export { readSource, type Source } from '../text/source.ts';
export { readTrial } from '../trial/read.ts';
export type { OpenTable } from '../trial/table/with-tables.ts';
export type { Trial } from '../trial/trial.ts';
export { Decimal } from '../uncertainty/decimal.ts';

/** The limits that stand in a trial itself; files and presets that it names are the caller's to read. */
export const layersOf = (trial: Trial): LimitLayer[] =>
  partsOf(trial.limits).flatMap((part) =>
    'set' in part ? [layerOf(part.set, { kind: 'inline' }, part.path, CATALOGUE).layer] : [],
  );
