import { weighingsOfCartridge } from '../../figures/cartridge-weighings.ts';
import type { Cartridge, Reading, Run, WasteContainer } from '../../trial/trial.ts';
import { brief } from '../../uncertainty/decimal.ts';
import type { Measured } from '../../uncertainty/measured.ts';
import { runsOf, valueOf } from '../facts.ts';
import { type Contradiction, type DoubtRule, taken } from './doubt.ts';
import { weighingsOf } from './weighings.ts';

/** More than the readings can be off: beyond U = 2u. */
const isMore = (one: Measured, other: Measured): boolean => {
  const difference = one.minus(other);
  return difference.value.gt(difference.u.times(2));
};

/** Weights of cartridges and containers. */
const massesOf = ({ containers, cartridges, batches }: Run): Reading[] => [
  // A scale that was set to zero with the empty container on it shows the waste alone.
  ...containers
    .filter(({ tare }) => !tare.measured?.value.isZero())
    .flatMap(({ tare, final }) => [tare, final]),
  ...(containers.some(({ tare }) => tare.measured?.value.isZero())
    ? []
    : batches.map(({ containerMass }) => containerMass)),
  ...cartridges.flatMap(({ startMass, endMass }) => [startMass, endMass]),
  ...batches.flatMap(({ cartridgeMasses }) => [...cartridgeMasses.values()]),
];

/** What a cartridge or a waste container weighs, in g: wide bounds; common practice, no source. */
const LIGHTEST = 5;
const HEAVIEST = 50_000;

/** Weights are in the unit they are read in: kg taken for g, or g for kg, makes them a thousand times off. */
export const massPossible: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    massesOf(run).flatMap((reading): Contradiction[] => {
      const mass = reading.measured?.value;
      if (mass === undefined) return [];
      const light = mass.lt(LIGHTEST);
      if (!light && mass.lte(HEAVIEST)) return [];
      const fault = { code: 'mass-implausible', written: `${brief(mass)} g`, light } as const;
      return [{ fault, path: reading.path, readings: [reading.path] }];
    }),
  );

/** A mass that was read. */
interface Weighed {
  readonly mass: Reading;
  readonly measured: Measured;
}

const weighed = (masses: readonly Reading[]): Weighed[] =>
  masses.flatMap((mass) => (mass.measured ? [{ mass, measured: mass.measured }] : []));

const heaviest = (read: readonly Weighed[]): Weighed | undefined =>
  read.toSorted((a, b) => a.measured.value.cmp(b.measured.value)).at(-1);

/** No container weighs less after the run than on the way, nor less from one weighing to the next. */
export const massGrows: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    weighingsOf(run).flatMap((weighings): Contradiction[] => {
      const read = weighed((weighings ?? []).map(({ mass }) => mass));
      return read.slice(1).flatMap(({ mass, measured }, index): Contradiction[] => {
        const final = run.containers.some((container) => container.final === mass);
        // The mass after the run is held against the greatest of all, be it long before.
        const before = final ? heaviest(read) : read[index];
        if (before === undefined || !isMore(before.measured, measured)) return [];
        const [was, is] = [before.measured.value, measured.value].map(brief);
        const fault = final
          ? ({ code: 'interim-above-final', mass: `${was} g`, final: `${is} g` } as const)
          : ({ code: 'interim-falls', before: `${was} g`, mass: `${is} g` } as const);
        return [{ fault, path: mass.path, readings: taken(before.mass, mass) }];
      });
    }),
  );

/** No cartridge weighs more from one weighing to the next. */
export const massFalls: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    run.cartridges.flatMap((cartridge): Contradiction[] => {
      const read = weighed(weighingsOfCartridge(cartridge, run).map(({ mass }) => mass));
      return read.slice(1).flatMap(({ mass, measured }, index): Contradiction[] => {
        const before = read[index];
        if (before === undefined || !isMore(measured, before.measured)) return [];
        const [was, is] = [before.measured.value, measured.value].map(brief);
        const fault = {
          code: 'cartridge-gains',
          slot: cartridge.name ?? '',
          before: `${was} g`,
          mass: `${is} g`,
        } as const;
        return [{ fault, path: mass.path, readings: taken(before.mass, mass) }];
      });
    }),
  );

/** At one reading of the meter a container has one mass. */
export const massAgrees: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    weighingsOf(run).flatMap((weighings): Contradiction[] => {
      const [before, final] = (weighings ?? []).slice(-2);
      if (!before?.at || !final?.at?.eq(before.at)) return [];
      const [one, other] = [before.mass.measured, final.mass.measured];
      if (!one || !other || !isMore(other, one) || !other.value.gt(one.value.times('1.01'))) return [];
      const fault = {
        code: 'weighed-twice-apart',
        first: `${brief(one.value)} g`,
        second: `${brief(other.value)} g`,
        at: final.at.toFixed(),
      } as const;
      return [{ fault, path: final.mass.path, readings: taken(before.mass, final.mass) }];
    }),
  );

/** No waste container holds more than it can. */
export const withinCapacity: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    run.containers.flatMap(({ tare, final, capacity, path }: WasteContainer): Contradiction[] => {
      if (tare.measured === null || final.measured === null || capacity === null) return [];
      const waste = final.measured.minus(tare.measured);
      if (!waste.value.minus(waste.u.times(2)).gt(capacity)) return [];
      const fault = {
        code: 'over-capacity',
        waste: brief(waste.value),
        capacity: capacity.toFixed(),
      } as const;
      return [{ fault, path: final.path, readings: [...taken(tare, final), [...path, 'capacity']] }];
    }),
  );

/** Waste of a thousand pages, in g, that a machine with a waste container leaves in it; common practice, no source. */
const LEAST_WASTE = 0.1;

/** A container that went in for many pages has something in it, if the scale can tell. */
export const wasteCollected: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run, figures }): Contradiction[] => {
    const [waste, pages] = [valueOf(figures, 'waste_mass'), valueOf(figures, 'pages')];
    const [container, ...others] = run.containers;
    if (!waste?.value.isZero() || pages === null || container === undefined || others.length > 0) return [];
    // One weighed on the way bears out that nothing came.
    if (run.batches.some(({ containerMass }) => containerMass.measured !== null)) return [];
    if (pages.value.times(LEAST_WASTE / 1000).lte(waste.u.times(2))) return [];
    const { tare, final } = container;
    const fault = {
      code: 'no-waste',
      mass: brief(final.measured?.value ?? waste.value),
      pages: brief(pages.value),
    } as const;
    return [{ fault, path: final.path, readings: taken(tare, final) }];
  });

/** No more toner ends in the waste container than left the cartridges. */
export const wasteWithinToner: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run, figures }): Contradiction[] => {
    const waste = valueOf(figures, 'waste_mass');
    const [alone] = run.cartridges;
    const used = valueOf(figures, 'toner_used', run.cartridges.length === 1 && alone ? alone.name : null);
    const container = run.containers.at(-1);
    if (waste === null || used === null || container === undefined || !isMore(waste, used)) return [];
    const fault = {
      code: 'waste-exceeds-toner',
      waste: brief(waste.value),
      used: brief(used.value),
    } as const;
    return [{ fault, path: container.final.path, readings: [...waste.restsOn, ...used.restsOn] }];
  });

/** No cartridge gives more toner than was filled in. */
export const usedWithinFill: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    run.cartridges.flatMap(({ startMass, endMass, fillMass, name }: Cartridge): Contradiction[] => {
      if (!startMass.measured || !endMass.measured || !fillMass.measured) return [];
      const used = startMass.measured.minus(endMass.measured);
      if (!isMore(used, fillMass.measured)) return [];
      const fault = {
        code: 'used-beyond-fill',
        slot: name ?? '',
        used: brief(used.value),
        fill: brief(fillMass.measured.value),
      } as const;
      return [{ fault, path: endMass.path, readings: taken(startMass, endMass, fillMass) }];
    }),
  );

/** An exhausted cartridge has given at least this share of its fill; common practice, no source. */
const LEAST_USED = 0.5;

/** A cartridge is exhausted when its toner is used up, unless it failed. */
export const exhaustedWhenUsed: DoubtRule = (facts) =>
  runsOf(facts).flatMap(({ run }) =>
    run.cartridges.flatMap((cartridge: Cartridge): Contradiction[] => {
      const { startMass, endMass, fillMass, residualMass, exhausted, failed, fresh, to, name } = cartridge;
      if (!exhausted || failed || !fresh) return [];
      if (!startMass.measured || !endMass.measured || !fillMass.measured) return [];
      const used = startMass.measured.minus(endMass.measured);
      const usable = fillMass.measured.value.minus(residualMass.measured?.value ?? 0);
      if (used.value.plus(used.u.times(2)).gte(usable.times(LEAST_USED))) return [];
      const fault = {
        code: 'exhausted-early',
        slot: name ?? '',
        used: brief(used.value),
        usable: brief(usable),
      } as const;
      return [{ fault, path: to.path, readings: taken(startMass, endMass, fillMass, to) }];
    }),
  );
