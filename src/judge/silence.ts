import { withToner } from '../figures/toner-used.ts';
import type { Problem } from '../problems/problem.ts';
import type { InspectionFinding, SeenPrint } from '../trial/trial.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { type Facts, valueOf } from './facts.ts';
import type { Judged } from './judge.ts';

/** What keeps a trial from passing though no limit speaks of it; its code is the ground of the verdict. */
export type Silence = Extract<Problem, { code: (typeof SILENCES)[number] }>;
export const SILENCES = ['unspoken-finding', 'unspoken-failure', 'short-of-target'] as const;

/** What no limit speaks of, and must not be passed over. */
export const silencesOf = (facts: Facts, judged: readonly Judged[]): readonly Silence[] => [
  ...criticalFindings(facts, judged),
  ...criticalPrints(facts, judged),
  ...failures(facts, judged),
  ...endedEarly(facts),
];

/** Critical findings that none of the judged limits is on: on findings in all, on their stage, or on their part. */
function criticalFindings({ trial: { run } }: Facts, judged: readonly Judged[]): Silence[] {
  const limited = judged.filter(({ derived }) => derived.figure.name === 'worst_finding');
  const spokenOf = ({ stage, part }: InspectionFinding): boolean =>
    limited.some(({ derived: { of } }) => of === null || of === stage || of === part);
  const unspoken = (run.inspection ?? []).filter((one) => one.severity === 'critical' && !spokenOf(one));
  const [first] = unspoken;
  if (first === undefined) return [];
  return [
    {
      code: 'unspoken-finding',
      of: 'inspection',
      findings: unspoken.length,
      path: [...first.path, 'severity'],
    },
  ];
}

/** Prints judged critical by eye that none of the judged limits is on: on prints in all, on the attribute, or on the slot. */
function criticalPrints({ trial: { run } }: Facts, judged: readonly Judged[]): Silence[] {
  const limited = judged.filter(({ derived }) => derived.figure.name === 'worst_print');
  const spokenOf = ({ attribute, slot }: SeenPrint): boolean =>
    limited.some(({ derived: { of } }) => of === null || of === attribute || of === slot);
  const unspoken = (run.prints.byEye ?? []).filter((one) => one.severity === 'critical' && !spokenOf(one));
  const [first] = unspoken;
  if (first === undefined) return [];
  return [
    { code: 'unspoken-finding', of: 'prints', findings: unspoken.length, path: [...first.path, 'severity'] },
  ];
}

/** Cartridges that failed, without a limit on how many may. */
function failures({ trial: { run } }: Facts, judged: readonly Judged[]): Silence[] {
  if (judged.some(({ derived }) => derived.figure.name === 'failed_cartridges')) return [];
  const failed = run.cartridges.filter((cartridge) => cartridge.failed);
  const [first] = failed;
  if (first === undefined) return [];
  return [{ code: 'unspoken-failure', cartridges: failed.length, path: first.failedAt?.path ?? first.path }];
}

/** Pages in a batch unless the target says otherwise. */
const BATCH = new Decimal(1000);

/**
 * A run that has ended more than a batch short of the pages planned. One that ended because every cartridge was
 * exhausted has shown what it was to show.
 */
function endedEarly({ trial: { data, run }, derived }: Facts): Silence[] {
  const target = data.target?.pages?.value;
  const pages = valueOf(derived, 'pages')?.value;
  if (target === undefined || pages === undefined) return [];
  if (pages.gte(target.minus(data.target?.batch?.value ?? BATCH))) return [];
  const toner = withToner(run);
  if (toner.length > 0 && toner.every(({ exhausted }) => exhausted)) return [];
  const [is, planned] = [pages.toSignificantDigits(6).toFixed(), target.toFixed()];
  return [{ code: 'short-of-target', pages: is, target: planned, path: ['meter', 'end'] }];
}
