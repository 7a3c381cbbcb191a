import type { Assessed } from '../../judge/assess.ts';
import type { Finding } from '../../text/finding.ts';
import { messageOf, wordsOf } from '../../output/words.ts';
import { severityOf } from '../../problems/codes.ts';
import type { Code } from '../../problems/problem.ts';
import { type Block, heading, list, paragraph, type Section } from '../content.ts';
import { withoutKeys } from '../plain-names.ts';
import { typeset } from '../typeset.ts';

const ABOUT_STATED: ReadonlySet<Code> = new Set<Code>([
  'stated-differs',
  'stated-as-exact',
  'stated-in-other-currency',
  'stated-unknown-part',
]);

/** What the house has to do or look at, and what stands beside the limits already. */
const NOT_FOR_CUSTOMERS: ReadonlySet<Code> = new Set<Code>([
  ...ABOUT_STATED,
  'to-be-read',
  'limit-not-applied',
  'limit-currency-not-applied',
  'within-uncertainty',
  'events-few',
]);

/** What else a careful reader should know: what there is to say, without how the house would mend its file. */
export function remarks(findings: readonly Finding[]): Section {
  const said = (severity: 'warning' | 'note'): string[] =>
    findings
      .filter(({ problem }) => severityOf(problem) === severity && !NOT_FOR_CUSTOMERS.has(problem.code))
      .map(({ problem }) => typeset(withoutKeys(wordsOf(problem).say)));
  const [warnings, notes] = [said('warning'), said('note')].map((all) => [...new Set(all)]);
  return { title: 'Remarks', blocks: list([...(warnings ?? []), ...(notes ?? [])]) };
}

/** What is for the house alone: stated figures, what is still to be read, every finding with its line. */
export function forTheHouse({ trial, file }: Assessed, findings: readonly Finding[]): Section {
  /** A finding with its line in the trial file. */
  const told = ({ problem, file: where, place }: Finding): string =>
    `${messageOf(problem)}${place === null ? '' : ` (${where === file ? '' : `${where}, `}line ${place.line})`}`;
  const isStated = ({ problem }: Finding): boolean => ABOUT_STATED.has(problem.code);
  const readings = findings.flatMap(({ problem, place }) =>
    problem.code === 'to-be-read'
      ? [`${problem.reading}${place === null ? '' : ` (line ${place.line})`}`]
      : [],
  );
  const others = findings.filter((finding) => !isStated(finding) && finding.problem.code !== 'to-be-read');
  const of = (severity: 'warning' | 'note'): string[] =>
    others.filter(({ problem }) => severityOf(problem) === severity).map(told);
  const part = (word: string, items: readonly string[]): Block[] =>
    items.length === 0 ? [] : [heading(word), ...list(items)];
  const stated = Object.values(trial.data.stated ?? {})
    .flat()
    .filter((one) => one != null).length;
  const differing = findings.filter(isStated);
  return {
    title: 'For the house',
    blocks: [
      paragraph('This part is not for the customer: it is printed because it was asked for.'),
      heading('Figures of a draft report'),
      ...(differing.length === 0
        ? [
            paragraph(
              stated === 0
                ? 'No figures of a draft report were given to be checked.'
                : `What the draft report states (${stated === 1 ? 'one figure' : `${stated} figures`}) is what the readings give.`,
            ),
          ]
        : [
            paragraph('What the draft report states and what the readings give differ:'),
            ...list(differing.map(told)),
          ]),
      ...part('Still to be read', readings),
      ...part('Warnings', of('warning')),
      ...part('Notes', of('note')),
    ],
  };
}
