import type { Result } from '../judge/assess.ts';
import type { Effect } from '../trial/catalogue.ts';
import type { Outcome } from '../judge/decide.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { padEnd, padStart, wrap } from './columns.ts';
import { harmless, harmlessJson } from './harmless.ts';
import { figureValue, fullDigits } from './numbers.ts';
import { type Paint, PLAIN } from './paint.ts';
import { limitText, marginText } from './text-limits.ts';
import { nameOf } from './text-figures.ts';

/** Many verdicts in one table: how many of each, and who came nearest to each limit. */

/** A limit held against one figure of one trial, as the table needs it: plain text. */
export interface LimitSeen {
  /** The limit in words, the same for every figure it holds for. */
  readonly limit: string;
  readonly figure: string;
  readonly stat: string | null;
  /** Decimals, or the word of a severity; null where there is no such edge. */
  readonly min: string | null;
  readonly max: string | null;
  readonly unit: string;
  readonly effect: Effect;
  readonly outcome: Outcome;
  /** Decimal; null where the figure has no value. */
  readonly margin: string | null;
  /** The margin in words, with its unit. */
  readonly shown: string;
  /** Whose margin it is: a cartridge, a patch, a stage; null for the whole trial. */
  readonly of: string | null;
}

/** A trial that was asked for by its verdict. */
export interface Listed {
  readonly file: string;
  readonly verdict: Result['verdict'];
}

/** The limits of one trial. */
export function limitsSeen(result: Result): LimitSeen[] {
  if (result.verdict === 'invalid') return [];
  return result.judged.map((one) => {
    const { figure, stat, of, unit } = one.derived;
    const effect = one.effect === 'fails' ? '' : ` (${one.effect})`;
    return {
      limit: `${nameOf({ figure, stat, of: null })}, ${limitText(one)}${effect}`,
      figure: figure.name,
      stat,
      min: one.limit.min && figureValue(one.limit.min, unit),
      max: one.limit.max && figureValue(one.limit.max, unit),
      unit: one.limit.currency ?? unit,
      effect: one.effect,
      outcome: one.outcome,
      margin: one.margin === null ? null : fullDigits(one.margin),
      shown: marginText(one),
      of,
    };
  });
}

const VERDICTS = ['pass', 'fail', 'inconclusive', 'invalid'] as const;

interface Least {
  readonly limit: LimitSeen;
  readonly counts: Record<Outcome, number>;
  least: {
    readonly margin: Decimal;
    readonly shown: string;
    readonly file: string;
    readonly of: string | null;
  } | null;
}

/** The format of the table in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

/** Counts verdicts one after the other, and keeps of each limit only the least margin. */
export class Summary {
  private readonly verdicts = { pass: 0, fail: 0, inconclusive: 0, invalid: 0 };
  private readonly limits = new Map<string, Least>();

  add(file: string, verdict: Result['verdict'], seen: readonly LimitSeen[]): void {
    this.verdicts[verdict] += 1;
    for (const one of seen) {
      const { limit, outcome, margin, shown, of } = one;
      const known = this.limits.get(limit) ?? {
        limit: one,
        counts: { met: 0, missed: 0, open: 0 },
        least: null,
      };
      this.limits.set(limit, known);
      known.counts[outcome] += 1;
      if (margin === null) continue;
      const value = new Decimal(margin);
      if (known.least?.margin.lte(value)) continue;
      known.least = { margin: value, shown, file, of };
    }
  }

  private get all(): number {
    return VERDICTS.reduce((sum, verdict) => sum + this.verdicts[verdict], 0);
  }

  /** The table for other programs; `listed` are the trials that were asked for by name of verdict, null where none were. */
  json(listed: readonly Listed[] | null, tool: string): string {
    const data = {
      format: FORMAT,
      tool,
      trials: this.all,
      verdicts: this.verdicts,
      limits: [...this.limits.values()].map(({ limit, counts, least }) => ({
        figure: limit.figure,
        stat: limit.stat,
        min: limit.min,
        max: limit.max,
        unit: limit.unit,
        effect: limit.effect,
        ...counts,
        least_margin: least && fullDigits(least.margin),
        file: least?.file ?? null,
        of: least?.of ?? null,
      })),
      listed,
    };
    return `${harmlessJson(data, 2)}\n`;
  }

  /** The table in lines of at most 80 columns. */
  text(paint: Paint = PLAIN): string {
    const lines = [
      paint.strong('VERDICTS'),
      ...VERDICTS.map((verdict) => `  ${padEnd(verdict, 14)}${padStart(String(this.verdicts[verdict]), 8)}`),
      `  ${padEnd('in all', 14)}${padStart(String(this.all), 8)}`,
    ];
    if (this.limits.size > 0) lines.push('', paint.strong('LIMITS, AND THE LEAST MARGIN TO EACH'));
    for (const [limit, { counts, least }] of this.limits) {
      const outcomes = (['met', 'missed', 'open'] as const)
        .filter((outcome) => counts[outcome] > 0)
        .map((outcome) => `${counts[outcome]} ${outcome}`);
      lines.push(...wrap(`${limit}: ${outcomes.join(', ')}`, '  ', '    '));
      if (least !== null)
        lines.push(
          ...wrap(
            harmless(`${least.shown} in ${least.file}${least.of === null ? '' : `, ${least.of}`}`),
            '    ',
            '      ',
          ),
        );
    }
    lines.push('', 'Each verdict speaks of the sample tried, in its machine and its air.');
    return `${lines.join('\n')}\n`;
  }
}
