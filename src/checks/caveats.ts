import type { Judged } from '../judge/judge.ts';
import type { Code } from '../problems/problem.ts';
import type { Checked } from '../problems/problem.ts';
import type { SeverityWord } from '../trial/schema/severities.ts';
import { dotted } from '../uncertainty/path.ts';
import type { Assessed } from '../judge/assess.ts';
import { isNear } from './near-limits.ts';
import { statedAgree } from './stated.ts';

/** What a reader must know before relying on a verdict: data, worded in `output/caveats.ts`. */
export type Caveat =
  /** Readings in doubt; `code` is that of the contradiction. */
  | { readonly kind: 'doubt'; readonly code: Code; readonly readings: readonly string[] }
  | {
      readonly kind: 'silence';
      readonly code: 'unspoken-finding';
      readonly of: 'inspection' | 'prints';
      readonly findings: number;
    }
  | {
      readonly kind: 'silence';
      readonly code: 'unspoken-failure';
      readonly failed: number;
      readonly of: number;
    }
  | {
      readonly kind: 'silence';
      readonly code: 'short-of-target';
      readonly pages: string;
      readonly target: string;
    }
  | {
      readonly kind: 'failure';
      readonly code: 'cartridge-failed';
      readonly failed: number;
      readonly of: number;
    }
  | {
      readonly kind: 'finding';
      readonly code: 'finding-major';
      readonly of: 'inspection' | 'prints';
      readonly critical: number;
      readonly major: number;
      /** Part or attribute, and note, of the worst of them, as far as they are written. */
      readonly worst: string;
    }
  | { readonly kind: 'near'; readonly code: 'within-uncertainty'; readonly limits: readonly Judged[] }
  | { readonly kind: 'checked'; readonly code: Code; readonly checked: readonly Checked[] }
  | { readonly kind: 'stated'; readonly code: 'stated-differs'; readonly figures: readonly string[] };

/** The caveats of a verdict, worst first. */
export const caveatsOf = (result: Assessed): readonly Caveat[] => [
  ...doubts(result),
  ...silences(result),
  ...failures(result),
  ...findings(result),
  ...prints(result),
  ...near(result),
  ...checked(result),
  ...stated(result),
];

const doubts = (result: Assessed): Caveat[] =>
  result.doubts.flatMap(({ problem, open }): Caveat[] =>
    open.length === 0 ? [] : [{ kind: 'doubt', code: problem.code, readings: open.map(dotted) }],
  );

const silences = ({ silences: said, trial: { run } }: Assessed): Caveat[] =>
  said.map((silence): Caveat => {
    if (silence.code === 'unspoken-finding')
      return { kind: 'silence', code: silence.code, of: silence.of, findings: silence.findings };
    if (silence.code === 'short-of-target')
      return { kind: 'silence', code: silence.code, pages: silence.pages, target: silence.target };
    const [failed, of] = [silence.cartridges, run.cartridges.length];
    return { kind: 'silence', code: silence.code, failed, of };
  });

/** Cartridges that failed, where a limit speaks of them; else that none does has been said. */
function failures({ trial: { run }, silences: said }: Assessed): Caveat[] {
  const failed = run.cartridges.filter((cartridge) => cartridge.failed).length;
  if (failed === 0 || said.some(({ code }) => code === 'unspoken-failure')) return [];
  return [{ kind: 'failure', code: 'cartridge-failed', failed, of: run.cartridges.length }];
}

function findings({ trial: { run }, silences: said }: Assessed): Caveat[] {
  const all = (run.inspection ?? []).map(({ severity, part, slot, stage, note }) => ({
    severity,
    named: [part ?? slot ?? stage, note],
  }));
  return worseThanMinor('inspection', all, said);
}

/** Prints judged major or worse by eye. */
const prints = ({ trial: { run }, silences: said }: Assessed): Caveat[] =>
  worseThanMinor(
    'prints',
    (run.prints.byEye ?? []).map(({ severity, attribute, slot, note }) => ({
      severity,
      named: [attribute, slot, note],
    })),
    said,
  );

/** What was found or seen to be major or worse; of what is critical that no limit speaks has been said. */
function worseThanMinor(
  of: 'inspection' | 'prints',
  all: readonly { readonly severity: SeverityWord | null; readonly named: readonly (string | null)[] }[],
  said: Assessed['silences'],
): Caveat[] {
  const unspoken = said.some((silence) => silence.code === 'unspoken-finding' && silence.of === of);
  const critical = unspoken ? [] : all.filter(({ severity }) => severity === 'critical');
  const major = all.filter(({ severity }) => severity === 'major');
  const [first] = [...critical, ...major];
  if (first === undefined) return [];
  const worst = first.named.filter(Boolean).join(', ');
  return [
    { kind: 'finding', code: 'finding-major', of, critical: critical.length, major: major.length, worst },
  ];
}

function near({ judged, agreed }: Assessed): Caveat[] {
  if (agreed.decision.rule !== 'simple') return [];
  const limits = judged.filter(isNear);
  return limits.length === 0 ? [] : [{ kind: 'near', code: 'within-uncertainty', limits }];
}

const checked = (result: Assessed): Caveat[] =>
  result.doubts.flatMap(({ problem, open, checked: looked }): Caveat[] =>
    open.length > 0 || looked.length === 0 ? [] : [{ kind: 'checked', code: problem.code, checked: looked }],
  );

function stated(result: Assessed): Caveat[] {
  const differing = statedAgree(result).flatMap((problem) =>
    problem.code === 'stated-differs' ? [problem.figure] : [],
  );
  if (differing.length === 0) return [];
  return [{ kind: 'stated', code: 'stated-differs', figures: [...new Set(differing)] }];
}

/** Strictly taken: a trial with anything to know before relying on it has not passed. */
export function strictly(result: Assessed): Assessed {
  const passed = result.verdict === 'pass' && caveatsOf(result).length > 0;
  return passed ? { ...result, verdict: 'inconclusive', ground: 'caveats' } : result;
}
