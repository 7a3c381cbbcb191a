import { unlistedCartridge, unlistedContainer } from '../figures/changes.ts';
import { countOf } from '../figures/event-rate.ts';
import { FEW_PAGES, stillInAtEnd } from '../figures/run-to-end.ts';
import { isSaid } from '../judge/doubt/all.ts';
import { valueOf } from '../judge/facts.ts';
import type { Problem } from '../problems/problem.ts';
import { sameTyped } from '../trial/serial.ts';
import type { Run } from '../trial/trial.ts';
import { ZERO } from '../uncertainty/decimal.ts';
import type { Check } from './check.ts';

/** What was changed during a run is listed as often as it was changed. */

/** Every container that was fitted is among those weighed; the waste in the others is missing. */
export const containersListed: Check = ({ trial: { run } }) => {
  const unlisted = unlistedContainer(run);
  if (run.containers.length === 0 || unlisted === null) return [];
  const [changes, listed] = [countOf(run, 'container_change'), run.containers.length];
  return [{ code: 'container-change-unlisted', changes, listed, path: unlisted.path }];
};

/** Every cartridge that was fitted is among those listed. */
export const cartridgesListed: Check = ({ trial: { run } }) => {
  if (!run.cartridges[0]?.listed) return [];
  const slots = [...new Set(run.cartridges.map(({ slot }) => slot))];
  const told = new Set<object>();
  return slots.flatMap((slot): Problem[] => {
    const unlisted = unlistedCartridge(run, slot);
    if (unlisted === null || told.has(unlisted)) return [];
    told.add(unlisted);
    const own = run.cartridges.filter((one) => one.slot === slot);
    const named = unlisted.slot ?? (slots.length === 1 ? slot : null);
    const changes = (run.events ?? []).filter(
      (event) => event.kind === 'cartridge_change' && (event.slot ?? named) === named,
    ).length;
    const listed = named === null && slots.length > 1 ? run.cartridges.length : own.length;
    return [{ code: 'cartridge-change-unlisted', slot: named ?? '', changes, listed, path: unlisted.path }];
  });
};

/** A cartridge put in for another and still in at the end has shown nothing of its yield. */
export const notRunToEnd: Check = ({ trial: { run }, derived }) =>
  run.cartridges
    .filter((cartridge) => stillInAtEnd(cartridge, run))
    .map(({ name, path }): Problem => {
      const pages = valueOf(derived, 'yield', name)?.value.toSignificantDigits(8).toFixed() ?? null;
      return { code: 'still-in-at-end', slot: name ?? '', pages, path };
    });

/** No two cartridges have one serial number, nor one of toner and one that it is held against. */
export const serialsOnce: Check = ({ trial: { run } }) => {
  const theirs = run.against?.cartridges.filter(({ life }) => life === 'toner') ?? [];
  return run.cartridges.flatMap(({ serial, path, life }, index): Problem[] => {
    const first =
      run.cartridges.slice(0, index).find((one) => sameTyped(one.serial, serial)) ??
      theirs.find((one) => life === 'toner' && sameTyped(one.serial, serial));
    if (serial === null || first === undefined) return [];
    const of = [theirs.includes(first) ? 'the reference' : null, first.name].filter((name) => name !== null);
    return [{ code: 'serial-twice', serial, first: of.join(', '), path: [...path, 'serial'] }];
  });
};

/**
 * A slot is never empty: between two cartridges, nor before the first of those with toner. What was doubted has been
 * said, and a cartridge whose print faded may have stayed in until the next one.
 */
export const slotsFilled: Check = ({ trial: { run }, doubts }) =>
  run.cartridges.flatMap((cartridge, index): Problem[] => {
    const before = run.cartridges.slice(0, index).findLast(({ slot }) => slot === cartridge.slot);
    const { path } = cartridge.from;
    if (!isOwn(cartridge) || isSaid(doubts, 'slot-empty', path)) return [];
    if (before?.exhaustedBy === 'fade' && before.removedAt === null) return [];
    const since = before
      ? (before.removedAt ?? before.to)
      : cartridge.life === 'toner'
        ? run.meter.start
        : null;
    const [from, to] = [since?.measured?.value, cartridge.from.measured?.value];
    const few = before ? ZERO : run.meter.clicksPerPage.times(FEW_PAGES);
    if (from === undefined || to === undefined || to.minus(from).lte(few)) return [];
    return [{ code: 'slot-empty', slot: cartridge.slot ?? '', from: from.toFixed(), to: to.toFixed(), path }];
  });

/** A cartridge that failed is looked at, and counted no further than it printed. */
export const failuresSeen: Check = ({ trial: { run } }) =>
  run.cartridges
    .filter(({ failed }) => failed)
    .map(({ slot, failedAt, to, path }): Problem => {
      const [at, until] = [failedAt?.measured?.value, to.measured?.value];
      return {
        code: 'cartridge-failed',
        slot: slot ?? '',
        at: at?.toFixed() ?? null,
        until: at && until?.gt(at) ? until.toFixed() : null,
        path: failedAt?.path ?? path,
      };
    });

/** The reading is the cartridge's, not the run's. */
const isOwn = ({ from, path }: Run['cartridges'][number]): boolean =>
  path.every((step, index) => from.path[index] === step);
