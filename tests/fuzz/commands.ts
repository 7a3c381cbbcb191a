/** What a command prints on standard output, and so what is asked of it. */
export type Shape = 'text' | 'json' | 'jsonl' | 'csv' | 'html' | 'line';

/**
 * The command lines that are tried, with what each prints. A, B, C and D stand for mutated trials, LIMITS
 * for a mutated limits file, SEALED for a trial as it is with a mutated seal beside it, FIGURE for the name of
 * a figure, NEW for a file that is not there yet. To try a further command, add its line.
 */
export const COMMAND_LINES: readonly (readonly [line: string, shape: Shape])[] = [
  ['verdict A', 'text'],
  ['verdict A B', 'text'],
  ['verdict A --format json', 'json'],
  ['verdict A B --format json', 'json'],
  ['verdict A B --format jsonl', 'jsonl'],
  ['verdict A B --quiet', 'line'],
  ['verdict A --limits office', 'text'],
  ['verdict A --limits LIMITS', 'text'],
  ['verdict A --limits laboratory --limits LIMITS --format json', 'json'],
  ['verdict A B --format csv', 'csv'],
  ['verdict A B C --summary', 'text'],
  ['recheck A B', 'text'],
  ['recheck A B --format json', 'json'],
  ['recheck SEALED', 'text'],
  ['recheck SEALED --format json', 'json'],
  ['seal A', 'line'],
  ['compare A B --limits LIMITS', 'text'],
  ['compare A B --limits-only LIMITS --format json', 'json'],
  ['compare A B --limits office --format csv', 'csv'],
  ['plan A', 'text'],
  ['plan A --format json', 'json'],
  ['plan A --format csv', 'csv'],
  ['plan A --record', 'text'],
  ['plan A --limits LIMITS --failing 5 --failing 0.5', 'text'],
  ['explain FIGURE A', 'text'],
  ['explain FIGURE A --format json', 'json'],
  ['marks A', 'text'],
  ['marks A --format json', 'json'],
  ['pool A B C', 'text'],
  ['pool A B C --claim 10500 --by-lot', 'text'],
  ['pool A B C --claim 10500 --tail two-sided --format json', 'json'],
  ['pool A B C --format csv', 'csv'],
  ['pool A B --against C D --margin 300', 'text'],
  ['pool A B --against C D --margin 300 --format json', 'json'],
  ['pool A B C --trend FIGURE', 'text'],
  ['pool A B C --trend FIGURE --format json', 'json'],
  ['lot A B C', 'text'],
  ['lot A B C --size 400 --limiting-quality 10 --lot K-19', 'text'],
  [
    'lot A B C --size 90 --limiting-quality 20 --acceptable-quality 2 --rule sequential --format json',
    'json',
  ],
  ['lot A B C --size 400 --limiting-quality 10 --format csv', 'csv'],
  ['start NEW --from A', 'line'],
  ['report A --output -', 'html'],
  ['report A --output - --format md', 'line'],
  ['report A --output - --limits LIMITS', 'html'],
  ['report A B C --output - --claim 10500 --trend FIGURE', 'html'],
  ['report A B C --output - --format md --by-lot', 'line'],
];
