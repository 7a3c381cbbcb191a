import type { Counted, CountedDocument } from '../../raster/count.ts';
import type { Fault, Problem } from '../../problems/problem.ts';
import type { Data } from '../../text/source.ts';
import type { Path } from '../../uncertainty/path.ts';
import { at, isMap, mapOf, replaced, slotsOf } from './in-place.ts';

/** Counts a document by the name a trial gives it, or says what keeps it from being counted. */
export type OpenDocument = (name: string) => CountedDocument | Fault;

/** For whoever reads a trial from its text alone. */
export const noDocuments: OpenDocument = (document) => ({
  code: 'document-unreadable',
  document,
  why: 'it was not opened',
});

/** A trial's data with counted coverages in place of the documents they come from. */
export interface Documented {
  readonly data: Data;
  readonly problems: readonly Problem[];
}

/** Runs that have a coverage of their own. */
const RUNS: readonly Path[] = [[], ['reference']];

/**
 * Counts the documents that a trial names for its coverages: of the whole run, by slot, and of a batch. One that cannot be
 * counted leaves its coverage out as if it had not been given yet.
 */
export function withDocuments(data: Data, open: OpenDocument): Documented {
  const problems: Problem[] = [];
  let now = data;
  for (const run of RUNS) {
    const slots = slotsOf(at(now, [...run, 'cartridges']) ?? at(now, ['cartridges']));
    const batches = at(now, [...run, 'batches']);
    const places: Path[] = [
      [...run, 'coverage'],
      ...(Array.isArray(batches)
        ? batches.map((_, index): Path => [...run, 'batches', index, 'coverage'])
        : []),
    ];
    for (const place of places) {
      const counted = countedIn(at(now, place), slots, open);
      if (counted === null) continue;
      problems.push(...counted.problems.map((one) => ({ ...one, path: [...place, ...one.path] })));
      now = replaced(now, place, counted.data);
    }
  }
  return { data: now, problems };
}

/** The document that stands for a coverage, and whether it stands alone; null where there is none. */
function documentIn(data: Data): { readonly name: string; readonly alone: boolean } | null {
  if (!isMap(data) || !Object.hasOwn(data, 'document')) return null;
  const name = data['document'] ?? '';
  if (typeof name !== 'string') return null;
  const alone = Object.keys(data).length === 1;
  // Without a name it is still to come, or the schema says what is wrong with it.
  return alone && name.trim() === '' ? null : { name, alone };
}

/** A coverage with its documents counted; null where it names none. */
function countedIn(coverage: Data, slots: readonly (string | null)[], open: OpenDocument): Documented | null {
  const whole = documentIn(coverage);
  if (whole !== null) return whole.alone ? ofAllSlots(whole.name, slots, open) : notAlone(whole.name);
  if (!isMap(coverage)) return null;
  const named = Object.entries(coverage).flatMap(([slot, one]) => {
    const document = documentIn(one);
    if (document === null) return [];
    const { name, alone } = document;
    return [[slot, alone ? ofOneSlot(name, slot, open) : notAlone(name)] as const];
  });
  if (named.length === 0) return null;
  return {
    data: named.reduce<Data>((data, [slot, one]) => replaced(data, [slot], one.data), coverage),
    problems: named.flatMap(([slot, one]) =>
      one.problems.map((problem) => ({ ...problem, path: [slot, ...problem.path] })),
    ),
  };
}

/** A document for all slots: a grey one where there is one slot, else one of four colours, of which each takes its own. */
function ofAllSlots(document: string, slots: readonly (string | null)[], open: OpenDocument): Documented {
  const found = open(document);
  if ('code' in found) return left(found);
  const [black, ...colours] = found.slots;
  if (black === undefined) return { data: null, problems: [] };
  const has = namesOf(found);
  const unfit = left({ code: 'document-slots', document, slots: slots.map((slot) => slot ?? ''), has });
  if (colours.length === 0) return slots.length > 1 ? unfit : read(document, [black], value(black));
  const unnamed = slots.length === 0 || (slots.length === 1 && slots[0] === null);
  if (unnamed && colours.every(({ toned }) => toned === 0)) return read(document, [black], value(black));
  const wanted = slots.length === 0 ? has : slots;
  const taken = found.slots.filter(({ slot }) => wanted.includes(slot));
  if (taken.length < wanted.length) return unfit;
  return read(document, taken, mapOf(taken.map((one) => [one.slot, value(one)])));
}

/** A document for one slot: a grey one is that slot's alone; of four colours it takes its own. */
function ofOneSlot(document: string, slot: string, open: OpenDocument): Documented {
  const found = open(document);
  if ('code' in found) return left(found);
  const own = found.slots.length === 1 ? found.slots[0] : found.slots.find((one) => one.slot === slot.trim());
  return own === undefined
    ? left({ code: 'document-slots', document, slots: [slot], has: namesOf(found) })
    : read(document, [own], value(own));
}

const namesOf = ({ slots }: CountedDocument): string[] => slots.map(({ slot }) => slot);

const notAlone = (document: string): Documented => left({ code: 'document-and-value', document });

const left = (fault: Fault): Documented => ({ data: null, problems: [{ ...fault, path: ['document'] }] });

function read(document: string, slots: readonly Counted[], data: Data): Documented {
  const coverages = slots.map((one) => ({
    slot: one.slot,
    coverage: decimals(one.coverage),
    tolerance: decimals(one.tolerance),
  }));
  return { data, problems: [{ code: 'document-counted', document, coverages, path: ['document'] }] };
}

/** More decimals than any picture tells. */
const decimals = (percent: number): string => percent.toFixed(6);

/** As it would be written in the file. */
const value = ({ coverage, tolerance }: Counted): Data =>
  mapOf([
    ['value', `${decimals(coverage)} %`],
    ['tolerance', `${decimals(tolerance)} %`],
  ]);
