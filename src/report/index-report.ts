import { count } from '../output/ground-words.ts';
import type { Assessed } from '../judge/assess.ts';
import { type Cell, type Report, table } from './content.ts';
import { firstScreen } from './first-screen.ts';

/** One page of several, as the index of them tells of it. */
export interface Indexed {
  readonly title: string;
  /** Where its page stands, from the index. */
  readonly page: string;
  readonly began: string;
  readonly verdict: Assessed['verdict'];
  readonly said: string;
}

/** What the index tells of a judged trial. */
export function indexed(result: Assessed, page: string): Indexed {
  const { trial, verdict } = result;
  const { word, said } = firstScreen(result);
  const head = typeof trial.data.trial === 'string' ? null : trial.data.trial;
  return { title: trial.title, page, began: head?.started?.text ?? '', verdict, said: `${word} ${said}` };
}

/** The index of the pages on several trials; what could not be read is named. */
export function indexReport(pages: readonly Indexed[], unread: readonly string[], tool: string): Report {
  const of = (verdict: Assessed['verdict']): number => pages.filter((one) => one.verdict === verdict).length;
  const said = (['pass', 'fail', 'inconclusive'] as const).map((verdict) => `${of(verdict)} ${verdict}`);
  return {
    kind: 'Index of reports',
    title: `Reports on ${count(pages.length, 'trial')}`,
    letterhead: null,
    id: null,
    tool,
    headline: {
      verdict: null,
      word: `${count(pages.length, 'trial')}.`,
      said: `${said.join(', ')}.`,
      more: [],
      strip: null,
      facts: [],
      caveats: unread.map((file) => `${file} could not be read, and has no page.`),
      covers: 'Each page speaks of the sample of its own trial.',
    },
    sections: [
      {
        title: 'The trials',
        blocks: table(
          'Every trial, with its page',
          [{ text: 'trial' }, { text: 'began', whole: true }, { text: 'verdict' }],
          pages.map(({ title, page, began, said: answer }): Cell[] => [
            { link: page, text: title },
            began,
            answer,
          ]),
        ),
      },
    ],
  };
}
