import type { Assessed } from '../../judge/assess.ts';
import type { Finding } from '../../text/finding.ts';
import { budgetOf } from '../../figures/budget.ts';
import { isDerived } from '../../figures/figure.ts';
import type { Judged } from '../../judge/judge.ts';
import { nameOf } from '../../output/text-figures.ts';
import { limitText } from '../../output/text-limits.ts';
import { messageOf } from '../../output/words.ts';
import { reasonWords, wouldDecide } from '../../output/reason-words.ts';
import { severityOf } from '../../problems/codes.ts';
import type { Code } from '../../problems/problem.ts';
import { list, paragraph, type Section, table } from '../content.ts';

/** A finding with its line in the trial file. */
const told = ({ problem, file, place }: Finding, own: string): string =>
  `${messageOf(problem)}${place === null ? '' : ` (${file === own ? '' : `${file}, `}line ${place.line})`}`;

const ABOUT_STATED: ReadonlySet<Code> = new Set<Code>([
  'stated-differs',
  'stated-as-exact',
  'stated-in-other-currency',
  'stated-unknown-part',
]);

const isAboutStated = ({ problem }: Finding): boolean => ABOUT_STATED.has(problem.code);

/** What differs between a draft report's figures and the readings. */
export function statedFigures({ trial, file }: Assessed, findings: readonly Finding[]): Section {
  const count = Object.values(trial.data.stated ?? {})
    .flat()
    .filter((one) => one != null).length;
  const differing = findings.filter(isAboutStated);
  const said =
    count === 0
      ? 'No figures of a draft report were given to be checked.'
      : differing.length === 0
        ? `What the draft report states (${count === 1 ? 'one figure' : `${count} figures`}) is what the readings give.`
        : 'What the draft report states and what the readings give differ:';
  return {
    title: 'Stated figures and readings',
    blocks: [paragraph(said), ...list(differing.map((finding) => told(finding, file)))],
  };
}

/** What the readings cannot decide, and which reading would. */
export function undecided({ judged }: Assessed, findings: readonly Finding[]): Section {
  const open = judged.filter(({ outcome }) => outcome === 'open');
  const readings = findings.flatMap(({ problem, place }) =>
    problem.code === 'to-be-read'
      ? [`${problem.reading}${place === null ? '' : ` (line ${place.line})`}`]
      : [],
  );
  return {
    title: 'What could not be decided',
    blocks: [
      paragraph(
        open.length > 0
          ? 'These limits are open:'
          : judged.length > 0
            ? 'Every limit was decided.'
            : 'There was no limit to decide.',
      ),
      ...table(
        'Open limits',
        ['figure', 'limit', 'why it is open', 'what would decide it'].map((text) => ({ text })),
        open.map((one) => [nameOf(one.derived), limitText(one), why(one), decidedBy(one)]),
      ),
      ...(readings.length > 0 ? [paragraph('Still to be read:'), ...list(readings)] : []),
    ],
  };
}

const why = ({ reason }: Judged): string => (reason === null ? '' : `${reasonWords(reason)}.`);

function decidedBy({ reason, derived: { result } }: Judged): string {
  const largest = isDerived(result) ? (budgetOf(result)[0]?.input.path ?? null) : null;
  return reason === null ? '' : wouldDecide(reason, largest);
}

/** What else a careful reader should know. */
export function remarks({ file }: Assessed, findings: readonly Finding[]): Section {
  const others = findings.filter(
    (finding) => !isAboutStated(finding) && finding.problem.code !== 'to-be-read',
  );
  const of = (severity: 'warning' | 'note'): string[] =>
    others.filter(({ problem }) => severityOf(problem) === severity).map((finding) => told(finding, file));
  const [warnings, notes] = [of('warning'), of('note')];
  return {
    title: 'Warnings and notes',
    blocks:
      warnings.length + notes.length === 0
        ? [paragraph('There are none.')]
        : [
            ...(warnings.length > 0 ? [paragraph('Warnings:'), ...list(warnings)] : []),
            ...(notes.length > 0 ? [paragraph('Notes:'), ...list(notes)] : []),
          ],
  };
}
