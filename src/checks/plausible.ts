import { partsOf } from '../limits/limits.ts';
import type { Problem } from '../trial/problem.ts';
import type { Quantity } from '../trial/quantity.ts';
import type { RunData } from '../trial/schema/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Path } from '../uncertainty/path.ts';
import { type Check, valueOf } from './check.ts';

/** A percentage written as a fraction: 0.05 where 5 % is meant. */
const asFraction = (quantity: Quantity | null | undefined, path: Path): Problem[] =>
  quantity && !quantity.text.includes('%') && quantity.value.gt(0) && quantity.value.lte(1)
    ? [
        {
          code: 'fraction-for-percent',
          written: quantity.text,
          percent: quantity.value.times(100).toFixed(),
          path,
        },
      ]
    : [];

/** Percentages were written as percentages. */
export const percentagesMeant: Check = ({ trial: { data, limits } }) => {
  const ofLimits = partsOf(limits).flatMap((part) =>
    'set' in part ? asFraction(part.set.reference_coverage, [...part.path, 'reference_coverage']) : [],
  );
  const ofRun = (run: RunData, path: Path): Problem[] => {
    const { coverage, duplex_share: duplex, ambient, cartridges } = run;
    const covered: readonly (readonly [Quantity | null | undefined, Path])[] =
      coverage == null
        ? []
        : 'resolution' in coverage
          ? [[coverage as Quantity, [...path, 'coverage']]]
          : Object.entries(coverage as Record<string, Quantity | { value?: Quantity | null } | null>).map(
              ([slot, value]) => {
                const quantity = value === null || 'resolution' in value ? value : value.value;
                return [slot === 'tolerance' ? null : quantity, [...path, 'coverage', slot]] as const;
              },
            );
    return [
      ...covered.flatMap(([value, at]) => asFraction(value, at)),
      ...asFraction(duplex, [...path, 'duplex_share']),
      ...(cartridges ?? []).flatMap(({ gauge }, index) =>
        asFraction(gauge?.start, [...path, 'cartridges', index, 'gauge', 'start']),
      ),
      ...(ambient ?? []).flatMap(({ humidity }, index) =>
        asFraction(humidity, [...path, 'ambient', index, 'humidity']),
      ),
    ];
  };
  return [...ofLimits, ...ofRun(data, []), ...(data.reference ? ofRun(data.reference, ['reference']) : [])];
};

/** What a cartridge or a waste container weighs, in g: wide bounds; common practice, no source. */
const LIGHTEST = 5;
const HEAVIEST = 50_000;

/** Weights are in the unit they are read in: kg taken for g, or g for kg, makes them a thousand times off. */
export const massesMeant: Check = ({ trial: { run, reference } }) =>
  [run, ...(reference ? [reference] : [])]
    .flatMap(({ containers, cartridges }) => [
      // A scale that was set to zero with the empty container on it shows the waste alone.
      ...containers
        .filter(({ tare }) => !tare.measured?.value.isZero())
        .flatMap(({ tare, final }) => [tare, final]),
      ...cartridges.flatMap(({ startMass, endMass }) => [startMass, endMass]),
    ])
    .flatMap(({ measured, path }): Problem[] => {
      const mass = measured?.value;
      if (mass === undefined || (mass.gte(LIGHTEST) && mass.lte(HEAVIEST))) return [];
      return [{ code: 'mass-implausible', written: `${mass.toFixed()} g`, light: mass.lt(LIGHTEST), path }];
    });

/** Sheets spoilt, in percent, that count as nothing unusual; the spare paper of the plan unless it says otherwise. */
const SPARE = new Decimal(2);

/** The sheets counted are those that pages and two-sided share ask for, within the spare paper. */
export const sheetsCounted: Check = ({ trial: { data }, derived }) => {
  const counted = data.paper?.sheets_used;
  const sheets = valueOf(derived, 'sheets');
  if (!counted || sheets === null || sheets.value.isZero()) return [];
  const spare = data.target?.spare_paper?.value ?? SPARE;
  const apart = counted.value.minus(sheets.value).abs();
  if (apart.lte(sheets.value.times(spare).div(100))) return [];
  return [
    {
      code: 'sheets-differ',
      counted: counted.value.toFixed(),
      derived: sheets.value.toSignificantDigits(6).toFixed(),
      path: ['paper', 'sheets_used'],
    },
  ];
};

/** No waste container holds more than it can. */
export const withinCapacity: Check = ({ trial: { run, reference } }) =>
  [...run.containers, ...(reference?.containers ?? [])].flatMap(({ tare, final, capacity }): Problem[] => {
    if (tare.measured === null || final.measured === null || capacity === null) return [];
    const waste = final.measured.value.minus(tare.measured.value);
    if (waste.lte(capacity)) return [];
    return [
      { code: 'over-capacity', waste: waste.toFixed(), capacity: capacity.toFixed(), path: final.path },
    ];
  });

/** Toner drawn for a covered square centimetre, in mg: wide bounds; common practice, no source. */
const LEAST_PER_AREA = 0.1;
const GREATEST_PER_AREA = 5;

/** Toner per page is what the coverage can explain. */
export const usageExplained: Check = ({ trial: { run }, derived }) =>
  run.cartridges.flatMap((cartridge): Problem[] => {
    const usage = valueOf(derived, 'usage_per_area', cartridge.name);
    if (usage === null) return [];
    if (usage.value.gte(LEAST_PER_AREA) && usage.value.lte(GREATEST_PER_AREA)) return [];
    return [
      {
        code: 'usage-implausible',
        slot: cartridge.name ?? '',
        usage: usage.value.toSignificantDigits(3).toFixed(),
        path: cartridge.endMass.path,
      },
    ];
  });
