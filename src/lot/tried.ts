import { stillInAtEnd } from '../figures/run-to-end.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Judged } from '../judge/judge.ts';
import { type Ground, verdictOf } from '../judge/verdict.ts';
import { timeOf } from '../pool/trend.ts';
import type { Cartridge } from '../trial/trial.ts';

/** What the trial of a cartridge says of it. */
export type Said = 'passes' | 'fails' | 'says-nothing';

/** Why it says so: the ground of its trial's verdict, as far as it is about this cartridge; or its own end. */
export type Why =
  | { readonly kind: 'failed-in-use' }
  | { readonly kind: 'still-in-at-end' }
  | { readonly kind: 'limits'; readonly ground: Ground; readonly judged: readonly Judged[] };

/** One cartridge of a lot that was tried. */
export interface Tried {
  readonly file: string;
  /** `black`, `black#2`; null for the one cartridge of a trial without slots. */
  readonly name: string | null;
  readonly slot: string | null;
  readonly lot: string | null;
  readonly serial: string | null;
  /** Serial of the machine, else its label; null where the trial names none. */
  readonly machine: string | null;
  /** Day of the trial; null where it does not say. */
  readonly day: string | null;
  readonly seconds: number;
  readonly said: Said;
  readonly why: Why;
}

/** The cartridges of a judged trial, and what it says of each. */
export function triedOf(result: Assessed): Tried[] {
  const { trial, file } = result;
  const { machine, lot } = trial.data;
  const time = timeOf(result);
  return trial.run.cartridges.map((cartridge) => ({
    file,
    name: cartridge.name,
    slot: cartridge.slot,
    lot: cartridge.lot ?? lot?.id ?? null,
    serial: cartridge.serial,
    machine: machine?.serial ?? machine?.label ?? null,
    day: time?.day ?? null,
    seconds: time?.seconds ?? 0,
    ...saidOf(result, cartridge),
  }));
}

/**
 * A cartridge that failed in use fails, whatever else was found. Any other is judged by the limits of its trial but
 * for those on other cartridges: what was missed by one alone is not held against the ones beside it.
 */
function saidOf(
  { trial: { run }, judged, silences }: Assessed,
  cartridge: Cartridge,
): Pick<Tried, 'said' | 'why'> {
  if (cartridge.failed) return { said: 'fails', why: { kind: 'failed-in-use' } };
  if (stillInAtEnd(cartridge, run)) return { said: 'says-nothing', why: { kind: 'still-in-at-end' } };
  const about = judged.filter(({ derived: { figure, of } }) => {
    if (figure.name === 'failed_cartridges') return false;
    return figure.per !== 'cartridge' || of === null || of === cartridge.name;
  });
  const silent = silences.filter(({ code }) => code !== 'unspoken-failure');
  const { verdict, ground } = verdictOf(about, silent);
  const said = ({ pass: 'passes', fail: 'fails', inconclusive: 'says-nothing' } as const)[verdict];
  return { said, why: { kind: 'limits', ground, judged: about } };
}
