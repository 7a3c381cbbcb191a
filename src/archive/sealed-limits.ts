import type { Limit, LimitLayer } from '../judge/limits.ts';
import { type Catalogue, CURRENCY, type FigureEntry, SEVERITY } from '../trial/catalogue.ts';
import { isFileName } from '../judge/limits.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Seal, SealedLimit } from './seal.ts';

/**
 * The limits that a seal holds, as one layer that a trial can be judged by, whatever became of the files they
 * came from. Null where one is on a figure that this program does not know.
 */
export function layerOfSeal(seal: Seal, catalogue: Catalogue): LimitLayer | null {
  const limits: Limit[] = [];
  for (const sealed of seal.limits) {
    const figure = catalogue.find(({ name }) => name === sealed.figure);
    if (figure === undefined) return null;
    limits.push(limitOf(sealed, figure));
  }
  return {
    limits,
    rule: seal.decision.rule,
    factor: new Decimal(seal.decision.factor),
    precision: seal.decision.precision.map(({ figure, of, sd, degrees_of_freedom: freedom }) => ({
      figure,
      of,
      sd: new Decimal(sd),
      freedom: Number(freedom),
    })),
    referenceCoverage: new Decimal(seal.reference_coverage),
    nonImageUsage: null,
  };
}

function limitOf({ of, stat, min, max, unit, effect, from }: SealedLimit, figure: FigureEntry): Limit {
  const value = (text: string | null): Decimal | null =>
    text === null
      ? null
      : new Decimal(figure.unit === SEVERITY ? (SEVERITIES as readonly string[]).indexOf(text) : text);
  return {
    figure,
    of,
    stat,
    min: value(min),
    max: value(max),
    currency: figure.unit === CURRENCY && unit !== CURRENCY ? unit : null,
    effect,
    origin:
      from === 'trial' ? { kind: 'inline' } : { kind: isFileName(from) ? 'file' : 'preset', name: from },
    path: [],
  };
}
