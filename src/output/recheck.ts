import { isNote, type Rechecked, type Remark, type State } from '../archive/compare.ts';
import { lastKey } from '../uncertainty/path.ts';
import { padEnd, wrap } from './columns.ts';
import { harmless, harmlessJson } from './harmless.ts';
import type { Case, CaseKind } from './junit.ts';
import { type Paint, PLAIN } from './paint.ts';
import type { RecheckData } from './schema/archive.ts';
import { remarkWords } from './archive-words.ts';

/** Re-checked trials for people and for other programs. */

const STATE_COLUMNS = 14;

const toneOf = (state: State, paint: Paint): ((text: string) => string) =>
  state === 'same' ? paint.good : state === 'seal missing' ? paint.unsure : paint.bad;

/** What became of one sealed result: its state, the file, and below them what there is to say. */
export function recheckText({ file, state, remarks }: Rechecked, paint: Paint = PLAIN): string {
  const [first = '', ...more] = wrap(harmless(file), `${padEnd(state, STATE_COLUMNS)}  `);
  const said = remarks.flatMap((remark) => wrap(harmless(remarkWords(remark)), '    '));
  return [first.replace(state, toneOf(state, paint)(state)), ...more, ...said]
    .map((line) => `${line}\n`)
    .join('');
}

/** The state, a tab, the file. */
export const recheckLine = ({ file, state }: Rechecked): string => `${state}\t${harmless(file)}\n`;

/** The format of a re-checked result in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

type RemarkData = RecheckData['remarks'][number];

function remarkData(remark: Remark): RemarkData {
  return {
    kind: isNote(remark) ? 'note' : 'change',
    code: remark.code === 'problem' ? remark.problem.code : remark.code,
    message: remarkWords(remark),
    ...detailOf(remark),
  };
}

/** What other programs want of a remark beside its sentence. */
function detailOf(remark: Remark): Omit<RemarkData, 'kind' | 'code' | 'message'> {
  switch (remark.code) {
    case 'problem':
      return { key: lastKey(remark.problem.path) };
    case 'reading-moved':
      return { key: remark.reading.key, sealed: remark.reading.sealed, now: remark.reading.now };
    case 'limit-differs': {
      const { figure, of, stat } = remark.sealed ?? remark.now ?? { figure: null, of: null, stat: null };
      return { figure, of, stat, sealed: remark.sealed, now: remark.now };
    }
    case 'limits-file-differs':
    case 'input-changed': {
      const { kind, file, sha256 } = remark.input;
      return { input: kind, file, sealed: sha256, now: remark.now };
    }
    case 'verdict-by-current-limits':
    case 'verdict-moved':
      return { sealed: remark.sealed, now: remark.now };
    case 'figure-moved': {
      const { sealed, now, difference, printed } = remark;
      const of = { figure: sealed.figure, of: sealed.of, stat: sealed.stat };
      return { ...of, sealed: brief(sealed), now: now && brief(now), difference, printed };
    }
    case 'figures-other-method':
      return {
        since: remark.since,
        figures: remark.moved.map(({ sealed, now }) => ({
          ...{ figure: sealed.figure, of: sealed.of, stat: sealed.stat },
          ...{ sealed: brief(sealed), now: brief(now) },
        })),
      };
    case 'outcome-moved': {
      const { figure, of, stat } = remark.limit;
      return { figure, of, stat, sealed: remark.sealed, now: remark.now };
    }
    case 'archive-changed':
    case 'archive-removed':
    case 'archive-added':
    case 'archive-unreadable':
      return { file: remark.file };
    case 'archive-moved':
      return { file: remark.file, to: remark.to };
    case 'figures-new':
      return { figures: remark.figures.map(({ figure, of, stat }) => ({ figure, of, stat })) };
    default:
      return {};
  }
}

const brief = ({ value, unit, u, bound }: Extract<Remark, { code: 'figure-moved' }>['sealed']) => ({
  value,
  unit,
  u,
  bound,
});

const recheckData = ({ file, state, sealed, verdict, remarks }: Rechecked, tool: string): RecheckData => ({
  format: FORMAT,
  tool,
  file,
  state,
  sealed,
  verdict,
  remarks: remarks.map(remarkData),
});

/** One re-checked trial as a JSON object on several lines, without a line break behind it. */
export const recheckObject = (one: Rechecked, tool: string): string =>
  harmlessJson(recheckData(one, tool), 2);

/** One re-checked trial in one line. */
export const recheckJsonLine = (one: Rechecked, tool: string): string =>
  `${harmlessJson(recheckData(one, tool))}\n`;

/** A state as build servers count: what was never sealed is neither passed nor failed. */
export const caseOfState = (state: State): CaseKind =>
  state === 'same'
    ? 'passed'
    : state === 'seal missing'
      ? 'skipped'
      : state === 'unreadable'
        ? 'error'
        : 'failed';

/** A re-checked trial as a testcase. */
export function recheckCase({ file, state, remarks }: Rechecked): Case {
  const words = remarks.map(remarkWords);
  return {
    name: file,
    group: 'recheck',
    kind: caseOfState(state),
    type: state,
    message: `${state}${words[0] === undefined ? '' : `: ${words[0]}`}`,
    output: [],
    lines: words,
  };
}
