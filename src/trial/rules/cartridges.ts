import type { Path } from '../../uncertainty/path.ts';
import type { Problem } from '../../problems/problem.ts';
import type { Quantity } from '../quantity.ts';
import type { RunData } from '../schema/trial.ts';
import { counted } from '../meter.ts';
import { insideRun } from './meter.ts';
import { isBySlot } from '../by-slot.ts';
import type { RunRule } from './rule.ts';

type CartridgeData = NonNullable<RunData['cartridges']>[number];

/** Weights and gauges of a cartridge fall, and its parts weigh no more than the whole. */
const weighings = (cartridge: CartridgeData, path: Path): Problem[] => {
  const problems: Problem[] = [];
  const { start_mass: start, end_mass: end, fill_mass: fill, residual_mass: residual, gauge } = cartridge;
  if (start && end?.value.gt(start.value)) {
    problems.push({ code: 'mass-rises', start: start.text, end: end.text, path: [...path, 'end_mass'] });
  }
  const within = (
    part: Quantity | null | undefined,
    whole: Quantity | null | undefined,
    keys: [string, string],
  ) => {
    if (part && whole && part.value.gt(whole.value)) {
      problems.push({
        code: 'part-exceeds-whole',
        part: part.text,
        whole: whole.text,
        wholeKey: keys[1],
        path: [...path, keys[0]],
      });
    }
  };
  within(fill, start, ['fill_mass', 'start_mass']);
  within(residual, fill, ['residual_mass', 'fill_mass']);
  if (gauge?.start && gauge.end?.value.gt(gauge.start.value)) {
    problems.push({
      code: 'gauge-rises',
      start: gauge.start.text,
      end: gauge.end.text,
      path: [...path, 'gauge', 'end'],
    });
  }
  if (cartridge.exhausted_by && !cartridge.exhausted_at) {
    problems.push({ code: 'exhausted-where', by: cartridge.exhausted_by, path: [...path, 'exhausted_by'] });
  }
  if (cartridge.failed_by && !cartridge.failed_at) {
    problems.push({ code: 'failed-where', by: cartridge.failed_by, path: [...path, 'failed_by'] });
  }
  return problems;
};

/** A cartridge is fitted, exhausted, taken out in that order, inside the run, and alone in its slot. */
export const cartridgeRules: RunRule = ({ meter, cartridges, coverage, batches }, path) => {
  const problems: Problem[] = [];
  const lastIn = new Map<string | null, Quantity>();
  const coverageBySlot = isBySlot(coverage) || (batches ?? []).some((batch) => isBySlot(batch.coverage));
  for (const [index, cartridge] of (cartridges ?? []).entries()) {
    const at = [...path, 'cartridges', index];
    const slot = cartridge.slot ?? null;
    problems.push(...weighings(cartridge, at));
    if (slot === null && coverageBySlot)
      problems.push({ code: 'missing-key', key: 'slot', path: [...at, 'slot'] });

    const installed = cartridge.installed_at ?? null;
    for (const key of ['installed_at', 'exhausted_at', 'removed_at', 'failed_at'] as const) {
      const reading = cartridge[key];
      if (!reading) continue;
      const outside = insideRun(meter, reading, [...at, key]);
      problems.push(...outside);
      if (outside.length > 0) continue;
      if (installed && key !== 'installed_at' && counted(meter, reading).lt(counted(meter, installed))) {
        problems.push({
          code: 'before-fitted',
          written: reading.text,
          installed: installed.text,
          path: [...at, key],
        });
      }
    }
    const { exhausted_at: exhausted, removed_at: removed } = cartridge;
    if (exhausted && removed && counted(meter, removed).lt(counted(meter, exhausted))) {
      problems.push({
        code: 'out-of-order',
        before: exhausted.text,
        written: removed.text,
        path: [...at, 'removed_at'],
      });
    }
    const previous = lastIn.get(slot);
    const first = installed ?? exhausted ?? removed;
    if (previous && first && counted(meter, first).lt(counted(meter, previous))) {
      const key = installed ? 'installed_at' : exhausted ? 'exhausted_at' : 'removed_at';
      problems.push({
        code: 'cartridges-overlap',
        slot: slot ?? '',
        written: first.text,
        previous: previous.text,
        path: [...at, key],
      });
    }
    const last = removed ?? exhausted ?? installed;
    if (last) lastIn.set(slot, last);
  }
  return problems;
};

/**
 * Every slot that is named belongs to a cartridge; without cartridges, to the coverage map. A coverage may be known
 * of slots whose cartridges are not listed.
 */
export const slotRules: RunRule = (run, path, trial) => {
  const problems: Problem[] = [];
  const mapped = (value: object | string | null | undefined): string[] =>
    isBySlot(value) ? Object.keys(value ?? {}) : [];
  const ofCartridges = (run.cartridges ?? []).flatMap(({ slot }) => (slot ? [slot] : []));
  const coverageSlots = mapped(run.coverage ?? (path.length > 0 ? trial.coverage : null));
  const slots = [...new Set(ofCartridges.length > 0 ? ofCartridges : coverageSlots)];
  // A slot that only a batch names would leave its coverage unused, or be misspelt.
  const named = [...new Set([...slots, ...coverageSlots])];
  for (const [index, { coverage }] of (run.batches ?? []).entries())
    for (const slot of mapped(coverage).filter((one) => !named.includes(one)))
      problems.push({
        code: 'batch-slot-unknown',
        slot,
        slots: named,
        path: [...path, 'batches', index, 'coverage', slot],
        atKey: true,
      });
  if (slots.length === 0) return problems;

  const check = (slot: string | null | undefined, at: Path, atKey = false): void => {
    if (slot != null && !slots.includes(slot))
      problems.push({ code: 'unknown-slot', slot, slots, path: at, atKey });
  };
  const known = (coverage: RunData['coverage'], at: Path): void => {
    for (const slot of mapped(coverage))
      if (!slots.includes(slot) && named.includes(slot))
        problems.push({
          code: 'coverage-without-cartridge',
          slot,
          slots,
          path: [...at, 'coverage', slot],
          atKey: true,
        });
  };
  known(run.coverage, path);
  for (const [index, { coverage, cartridge_mass: masses }] of (run.batches ?? []).entries()) {
    const at = [...path, 'batches', index];
    known(coverage, at);
    if (masses != null && 'resolution' in masses)
      problems.push({ code: 'mass-of-which-slot', slots, path: [...at, 'cartridge_mass'] });
    else for (const slot of mapped(masses)) check(slot, [...at, 'cartridge_mass', slot], true);
  }
  for (const slot of mapped(run.non_image_usage)) check(slot, [...path, 'non_image_usage', slot], true);
  for (const [index, { slot }] of (run.events ?? []).entries())
    check(slot, [...path, 'events', index, 'slot']);
  for (const [index, { slot }] of (run.prints?.patches ?? []).entries()) {
    check(slot, [...path, 'prints', 'patches', index, 'slot']);
  }
  for (const [index, { slot }] of (run.prints?.marks ?? []).entries()) {
    check(slot, [...path, 'prints', 'marks', index, 'slot']);
  }
  for (const [index, { slot }] of (run.prints?.by_eye ?? []).entries()) {
    check(slot, [...path, 'prints', 'by_eye', index, 'slot']);
  }
  for (const [index, { slot, serial }] of (run.inspection ?? []).entries()) {
    // A cartridge known by its serial number need not be one of this run.
    if (serial == null) check(slot, [...path, 'inspection', index, 'slot']);
  }
  return problems;
};
