import type { Problem } from '../trial/problem.ts';
import type { Run } from '../trial/trial.ts';
import type { Check } from './check.ts';

/** What was changed during a run is listed as often as it was changed. */

/** Every container that was fitted is among those weighed; the waste in the others is missing. */
export const containersListed: Check = ({ trial: { run } }) => {
  const changes = (run.events ?? []).filter(({ kind }) => kind === 'container_change');
  const unlisted = changes[run.containers.length - 1];
  if (run.containers.length === 0 || unlisted === undefined) return [];
  return [
    {
      code: 'container-change-unlisted',
      changes: changes.length,
      listed: run.containers.length,
      path: unlisted.path,
    },
  ];
};

/** Every cartridge that was fitted is among those listed. */
export const cartridgesListed: Check = ({ trial: { run } }) => {
  if (!run.cartridges.some(({ listed }) => listed)) return [];
  const slots = new Set(run.cartridges.map(({ slot }) => slot));
  const [only = null] = slots;
  return [...slots].flatMap((slot): Problem[] => {
    const listed = run.cartridges.filter((one) => one.slot === slot).length;
    const changes = (run.events ?? []).filter(
      ({ kind, slot: where }) =>
        kind === 'cartridge_change' && (where ?? (slots.size === 1 ? only : undefined)) === slot,
    );
    const unlisted = changes[listed - 1];
    if (unlisted === undefined) return [];
    return [
      {
        code: 'cartridge-change-unlisted',
        slot: slot ?? '',
        changes: changes.length,
        listed,
        path: unlisted.path,
      },
    ];
  });
};

/** A slot is never empty between two cartridges. */
export const slotsFilled: Check = ({ trial: { run } }) =>
  run.cartridges.flatMap((cartridge, index): Problem[] => {
    const before = run.cartridges.slice(0, index).findLast(({ slot }) => slot === cartridge.slot);
    const [from, to] = [before?.to.measured?.value, cartridge.from.measured?.value];
    if (from === undefined || to === undefined || !to.gt(from) || !isOwn(cartridge)) return [];
    return [
      {
        code: 'slot-empty',
        slot: cartridge.slot ?? '',
        from: from.toFixed(),
        to: to.toFixed(),
        path: cartridge.from.path,
      },
    ];
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
