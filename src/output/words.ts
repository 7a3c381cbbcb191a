import type { Checked, Fault, Problem } from '../problems/problem.ts';
import { lastKey } from '../uncertainty/path.ts';
import { CHECK_WORDS } from './words/check-words.ts';
import { DOUBT_WORDS } from './words/doubt-words.ts';
import { FILE_WORDS } from './words/file-words.ts';
import { LIMIT_WORDS } from './words/limit-words.ts';
import { PROGRESS_WORDS } from './words/progress-words.ts';
import { RULE_WORDS } from './words/rule-words.ts';
import { STATED_WORDS } from './words/stated-words.ts';
import { DOCUMENT_WORDS } from './words/document-words.ts';
import { TABLE_WORDS } from './words/table-words.ts';
import { VALUE_WORDS } from './words/value-words.ts';
import type { Said, Words } from './words/said.ts';

/** Every sentence about a trial file, a limits file or a figure; by subject in `words/`. */
const WORDS: Words = {
  ...FILE_WORDS,
  ...VALUE_WORDS,
  ...DOCUMENT_WORDS,
  ...TABLE_WORDS,
  ...RULE_WORDS,
  ...DOUBT_WORDS,
  ...LIMIT_WORDS,
  ...STATED_WORDS,
  ...PROGRESS_WORDS,
  ...CHECK_WORDS,
};

/** What there is to say of a problem, and how it is mended; either may be long, neither ends the line. */
export function wordsOf(problem: Problem): Said {
  const word = WORDS[problem.code] as (fault: Fault, key: string) => Said;
  const said = word(problem, lastKey(problem.path) ?? '');
  return problem.checked === undefined ? said : { say: said.say, mend: checkedWords(problem.checked) };
}

/** How doubted readings were looked at again. */
export const checkedWords = (checked: readonly Checked[]): string =>
  `Checked: ${checked.map(({ reading, note, by }) => `${reading}, ${note}${by === null ? '' : ` (${by})`}`).join('; ')}.`;

/** Both in one line. */
export function messageOf(problem: Problem): string {
  const { say, mend } = wordsOf(problem);
  return mend === '' ? say : `${say} ${mend}`;
}
