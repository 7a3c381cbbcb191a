import { harmlessWhole } from './harmless.ts';

/**
 * JUnit XML, the report that build servers read. There is no standard of it; this keeps to what its
 * readers have in common: testsuites > testsuite > testcase, and in a testcase that is not passed one
 * failure, error or skipped. It names no times and no host, so the same input gives the same bytes.
 */

/** How a case came out: `failed` was decided against, `error` could not be looked at, `skipped` is not decided. */
export type CaseKind = 'passed' | 'failed' | 'error' | 'skipped';

export interface Case {
  /** What is looked at: a file. */
  readonly name: string;
  /** What it is looked at for: the command. */
  readonly group: string;
  readonly kind: CaseKind;
  /** The word for what came out. */
  readonly type: string;
  readonly message: string;
  /** Lines below the message. */
  readonly lines: readonly string[];
  /** What must be known of it however it came out. */
  readonly output: readonly string[];
}

const ELEMENT = { failed: 'failure', error: 'error', skipped: 'skipped' } as const;

const ENTITY: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** Text without mark-up, and without the characters XML 1.0 has no place for (2.2, production 2). */
const xml = (text: string): string =>
  harmlessWhole(text)
    .replace(/[\uFFFE\uFFFF]/g, '\uFFFD')
    .replace(/[&<>"]/g, (char) => ENTITY[char] ?? char);

/** One testcase element, on lines of its own. */
export function junitCase({ name, group, kind, type, message, lines, output }: Case): string {
  const open = `    <testcase classname="${xml(group)}" name="${xml(name)}"`;
  const said = output.length === 0 ? '' : `      <system-out>${output.map(xml).join('\n')}</system-out>\n`;
  if (kind === 'passed') return said === '' ? `${open}/>\n` : `${open}>\n${said}    </testcase>\n`;
  const element = ELEMENT[kind];
  // Readers take the type and the text of a failure or an error; of what is skipped only the message.
  const typed = kind === 'skipped' ? '' : ` type="${xml(type)}"`;
  const start = `      <${element}${typed} message="${xml(message)}"`;
  const body =
    kind === 'skipped' || lines.length === 0
      ? `${start}/>\n`
      : `${start}>\n${lines.map(xml).join('\n')}\n      </${element}>\n`;
  return `${open}>\n${body}${said}    </testcase>\n`;
}

/** How many cases came out how. */
export type Counts = Readonly<Record<CaseKind, number>>;

/** What stands before the cases, which are counted there. */
export function junitHead(name: string, { passed, failed, error, skipped }: Counts): string {
  const counts = `tests="${passed + failed + error + skipped}" failures="${failed}" errors="${error}" skipped="${skipped}"`;
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="${xml(name)}" ${counts}>\n  <testsuite name="${xml(name)}" ${counts}>\n`;
}

export const JUNIT_TAIL = '  </testsuite>\n</testsuites>\n';
