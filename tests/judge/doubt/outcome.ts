import type { severityOf } from '../../../src/problems/codes.ts';
import { judge } from '../../run.ts';

/** What became of a trial: its verdict, the codes of what is in doubt, and whether the waste was decided on. */
export interface Judgement {
  readonly verdict: string;
  /** Codes of warnings that put a reading in doubt. */
  readonly doubts: readonly string[];
  readonly waste: string | undefined;
}

/** Codes of the contradictions that put readings in doubt. */
export const DOUBTS: ReadonlySet<string> = new Set([
  'cartridge-gains',
  'exhausted-early',
  'first-batch-long',
  'fixing-gains',
  'fraction-for-percent',
  'interim-above-final',
  'interim-falls',
  'mass-implausible',
  'no-waste',
  'over-capacity',
  'pages-after-cartridge',
  'pages-after-last-batch',
  'pages-over-target',
  'reading-not-of-run',
  'rolled-over-far',
  'sheets-differ',
  'slot-empty',
  'used-before-beyond-fill',
  'used-beyond-fill',
  'waste-exceeds-toner',
  'waste-rate-apart',
  'weighed-twice-apart',
  'weighings-apart',
] satisfies Parameters<typeof severityOf>[0]['code'][]);

export function judged(text: string): Judgement {
  const { verdict, notes, limits } = judge(text);
  return {
    verdict,
    doubts: notes.filter(({ kind, code }) => kind === 'warning' && DOUBTS.has(code)).map(({ code }) => code),
    waste: limits.find(({ figure }) => figure === 'waste_per_thousand')?.outcome,
  };
}
