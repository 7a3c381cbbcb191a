import type { Fault, Problem } from '../../problems/problem.ts';
import type { Data } from '../../text/source.ts';
import type { Path } from '../../uncertainty/path.ts';
import { at, mapOf, replaced, slotsOf } from '../document/in-place.ts';
import { isUsageName } from './usage-name.ts';
import { type SlotUsage, type Usage, usageOf } from './usage.ts';

/** Opens a usage file by the name a trial gives it, or says what keeps it from being used. */
export type OpenUsage = (name: string) => Usage | Fault;

/** For whoever reads a trial from its text alone. */
export const noUsage: OpenUsage = (usage) => ({ code: 'usage-unreadable', usage, why: 'it was not opened' });

/** Puts what usage files say in the place of their names; one that cannot be used leaves its key out. */
export function withUsage(
  data: Data,
  open: OpenUsage,
): { readonly data: Data; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  let now = data;
  for (const run of [[], ['reference']] as readonly Path[]) {
    const place = [...run, 'non_image_usage'];
    const name = at(now, place);
    if (typeof name !== 'string' || !isUsageName(name)) continue;
    const opened = open(name.trim());
    const slots = slotsOf(at(now, [...run, 'cartridges']) ?? at(now, ['cartridges']));
    const read = 'code' in opened ? { data: null, faults: [opened] } : valuesOf(name.trim(), opened, slots);
    const model = at(now, ['machine', 'model']);
    const faults =
      'code' in opened || typeof model !== 'string' ? [] : otherModel(name.trim(), opened, model.trim());
    problems.push(...[...read.faults, ...faults].map((fault) => ({ ...fault, path: place })));
    now = replaced(now, place, read.data);
  }
  return { data: now, problems };
}

/** Numbers of one machine are not carried to another without saying so. */
export const otherModel = (usage: string, { model }: Usage, own: string): Fault[] =>
  model === null || model === own ? [] : [{ code: 'usage-other-model', usage, model, own }];

function valuesOf(
  name: string,
  usage: Usage,
  slots: readonly (string | null)[],
): { readonly data: Data; readonly faults: readonly Fault[] } {
  const wanted = slots.length === 0 ? [null] : slots;
  const taken = wanted.map((slot) => [slot, usageOf(usage, slot, wanted.length === 1)] as const);
  const known = taken.flatMap(([slot, one]) => (one === null ? [] : [[slot, one] as const]));
  if (known.length === 0) {
    const has = usage.slots.map(({ slot }) => slot ?? '');
    const looked = wanted.map((slot) => slot ?? '');
    return { data: null, faults: [{ code: 'usage-slots', usage: name, slots: looked, has }] };
  }
  const [[slot, only] = []] = known;
  const data =
    slot === null && only !== undefined
      ? valueOf(only)
      : mapOf(known.map(([of, one]) => [of ?? '', valueOf(one)]));
  return {
    data,
    faults: [
      usageRead(
        name,
        usage,
        known.map(([, one]) => one),
      ),
    ],
  };
}

const valueOf = ({ m0, u, from, to }: SlotUsage): Data =>
  mapOf([
    ['value', `${m0.toFixed()} mg`],
    ['u', `${u.toFixed()} mg`],
    ...(from === null ? [] : [['from', `${from.toFixed()} %`] as const]),
    ...(to === null ? [] : [['to', `${to.toFixed()} %`] as const]),
  ]);

/** What was read from a usage file, for a note. */
export const usageRead = (name: string, { model, machines }: Usage, slots: readonly SlotUsage[]): Fault => ({
  code: 'usage-read',
  usage: name,
  model,
  machines,
  slots: slots.map(({ slot, m0, u, cartridges, from, to }) => ({
    slot,
    m0: m0.toFixed(),
    u: u.toFixed(),
    cartridges: cartridges?.toFixed() ?? null,
    from: from?.toFixed() ?? null,
    to: to?.toFixed() ?? null,
  })),
});
