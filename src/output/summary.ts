import type { Result } from '../judge/assess.ts';
import type { Outcome } from '../judge/decide.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { padEnd, padStart, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { fullDigits } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { limitText, marginText } from './text-limits.ts';
import { nameOf } from './text-figures.ts';

/** Many verdicts in one table: how many of each, and who came nearest to each limit. */

/** A limit held against one figure of one trial, as the table needs it: plain text. */
export interface LimitSeen {
  /** The limit in words, the same for every figure it holds for. */
  readonly limit: string;
  readonly outcome: Outcome;
  /** Decimal; null where the figure has no value. */
  readonly margin: string | null;
  /** The margin in words, with its unit. */
  readonly shown: string;
  /** Whose margin it is: a cartridge, a patch, a stage; null for the whole trial. */
  readonly of: string | null;
}

/** The limits of one trial. */
export function limitsSeen(result: Result): LimitSeen[] {
  if (result.verdict === 'invalid') return [];
  return result.judged.map((one) => {
    const { figure, stat, of } = one.derived;
    const effect = one.effect === 'fails' ? '' : ` (${one.effect})`;
    return {
      limit: `${nameOf({ figure, stat, of: null })}, ${limitText(one)}${effect}`,
      outcome: one.outcome,
      margin: one.margin === null ? null : fullDigits(one.margin),
      shown: marginText(one),
      of,
    };
  });
}

const VERDICTS = ['pass', 'fail', 'inconclusive', 'invalid'] as const;

interface Least {
  readonly counts: Record<Outcome, number>;
  least: { readonly margin: Decimal; readonly shown: string; readonly whose: string } | null;
}

/** Counts verdicts one after the other, and keeps of each limit only the least margin. */
export class Summary {
  private readonly verdicts = { pass: 0, fail: 0, inconclusive: 0, invalid: 0 };
  private readonly limits = new Map<string, Least>();

  add(file: string, verdict: Result['verdict'], seen: readonly LimitSeen[]): void {
    this.verdicts[verdict] += 1;
    for (const { limit, outcome, margin, shown, of } of seen) {
      const known = this.limits.get(limit) ?? { counts: { met: 0, missed: 0, open: 0 }, least: null };
      this.limits.set(limit, known);
      known.counts[outcome] += 1;
      if (margin === null) continue;
      const value = new Decimal(margin);
      if (known.least?.margin.lte(value)) continue;
      known.least = { margin: value, shown, whose: of === null ? file : `${file}, ${of}` };
    }
  }

  /** The table in lines of at most 80 columns. */
  text(paint: Paint = PLAIN): string {
    const all = VERDICTS.reduce((sum, verdict) => sum + this.verdicts[verdict], 0);
    const lines = [
      paint.strong('VERDICTS'),
      ...VERDICTS.map((verdict) => `  ${padEnd(verdict, 14)}${padStart(String(this.verdicts[verdict]), 8)}`),
      `  ${padEnd('in all', 14)}${padStart(String(all), 8)}`,
    ];
    if (this.limits.size > 0) lines.push('', paint.strong('LIMITS, AND THE LEAST MARGIN TO EACH'));
    for (const [limit, { counts, least }] of this.limits) {
      const outcomes = (['met', 'missed', 'open'] as const)
        .filter((outcome) => counts[outcome] > 0)
        .map((outcome) => `${counts[outcome]} ${outcome}`);
      lines.push(...wrap(`${limit}: ${outcomes.join(', ')}`, '  ', '    '));
      if (least !== null) lines.push(...wrap(harmless(`${least.shown} in ${least.whose}`), '    ', '      '));
    }
    lines.push('', 'Each verdict speaks of the sample tried, in its machine and its air.');
    return `${lines.join('\n')}\n`;
  }
}
