import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CATALOGUE } from '../../src/figures/list.ts';
import { severityOf } from '../../src/problems/codes.ts';
import type { Problem } from '../../src/problems/problem.ts';
import { readSource } from '../../src/text/source.ts';
import { readTrial } from '../../src/trial/read.ts';
import { ROOT } from '../run.ts';

/* Every line of every example, broken by machine in each of the ways that people break a line of YAML. */

/** A line as broken; null where it cannot be broken so. */
type Break = (line: string) => string | null;

const changed = (line: string, broken: string): string | null => (broken === line ? null : broken);

/** Whether a line holds something else than a comment. */
const says = (line: string): boolean => /\S/.test(line) && !/^\s*#/.test(line);

export const BREAKS: Readonly<Record<string, Break>> = {
  'no space after the colon': (line) => changed(line, line.replace(/^(\s*(?:- )?[\w ]+:) (?=\S)/, '$1')),
  'no space after a colon inside braces': (line) => changed(line, line.replace(/(\{[\w ]+:) (?=\S)/, '$1')),
  'no space after the last colon inside braces': (line) =>
    changed(line, line.replace(/^(.*, [\w ]+:) (?=[^{}:]*\}[^:]*$)/, '$1')),
  'a tab in front': (line) => changed(line, line.replace(/^ +/, '\t')),
  'a tab after the indentation': (line) => changed(line, line.replace(/^( +)(?=\S)/, '$1\t')),
  'one space too many in front': (line) => ` ${line}`,
  'two spaces too many in front': (line) => `  ${line}`,
  'one space too few in front': (line) => changed(line, line.replace(/^ /, '')),
  'no space in front': (line) => changed(line, line.replace(/^ +/, '')),
  'the last closing brace lost': (line) => changed(line, line.replace(/\}([^}]*)$/, '$1')),
  'the last closing bracket lost': (line) => changed(line, line.replace(/\]([^\]]*)$/, '$1')),
  'the first opening brace lost': (line) => changed(line, line.replace('{', '')),
  'the first opening bracket lost': (line) => changed(line, line.replace('[', '')),
  'a closing quote lost': (line) => changed(line, line.replace(/"([^"]*)$/, '$1')),
  'an opening quote lost': (line) => changed(line, line.replace('"', '')),
  'a brace too many': (line) => (line.trimEnd().endsWith('}') ? `${line.trimEnd()}}` : null),
  'a bracket too many': (line) => (line.trimEnd().endsWith(']') ? `${line.trimEnd()}]` : null),
  'the colon missing': (line) => changed(line, line.replace(/^(\s*(?:- )?[\w ]+):(?= \S)/, '$1')),
  'the colon missing at a section': (line) => changed(line, line.replace(/^(\s*[\w ]+):\s*$/, '$1')),
  'the colon missing inside braces': (line) => changed(line, line.replace(/(\{[\w ]+):(?= \S)/, '$1')),
  'typographic quotes': (line) => changed(line, line.replace(/"([^"]*)"/, '“$1”')),
  'a sign that begins a note': (line) =>
    changed(line, line.replace(/^(\s*(?:- )?[\w ]+: [^#{["\s]+) (?=\w)/, '$1 #')),
  'the value on the next line': (line) =>
    changed(line, line.replace(/^(\s*(?:- )?[\w ]+:) (?=[^\s#])/, '$1\n')),
};

export interface Broken {
  readonly file: string;
  readonly kind: string;
  /** Line that was broken, counted from 1. */
  readonly line: number;
  readonly text: string;
}

const folder = join(ROOT, 'examples');

export const EXAMPLES: readonly (readonly [file: string, text: string])[] = readdirSync(folder)
  .filter((file) => file.endsWith('.yaml'))
  .map((file) => [file, readFileSync(join(folder, file), 'utf8')] as const);

/** All broken examples. */
export function* brokenExamples(): Generator<Broken> {
  for (const [file, text] of EXAMPLES) {
    const lines = text.split('\n');
    for (const [kind, broken] of Object.entries(BREAKS))
      for (const [index, line] of lines.entries()) {
        const made = says(line) ? broken(line) : null;
        if (made === null) continue;
        yield { file, kind, line: index + 1, text: lines.with(index, made).join('\n') };
      }
  }
}

/** What is said of a text: each problem with its line; and what was read, to tell what is no slip at all. */
export function said(file: string, text: string) {
  const source = readSource(file, text);
  const read = readTrial(source, CATALOGUE, (name) => ({
    file: name,
    text: readFileSync(join(folder, name), 'utf8'),
  }));
  const problems = read.problems.map((problem): { problem: Problem; line: number; error: boolean } => ({
    problem,
    line: read.source.place(problem).line,
    error: severityOf(problem) === 'error',
  }));
  return { data: JSON.stringify(source.data), problems };
}
