import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { describe, expect, test } from 'vitest';
import { FIGURES } from '../src/figures/list.ts';
import { ROOT } from './run.ts';

/*
 * Where a formula or a limit comes from, as a customer reads it: by name, with its edition and its clause or page,
 * and with a word on whether the text was consulted.
 */

/** What a standard is called. */
const STANDARD = /\b(?:ISO(?:\/(?:IEC|CIE))?|ASTM|JIS|ILAC|JCGM|WMO)[ -](?:No\. )?(?:[A-Z] ?)?\d+(?:-\d+)?/g;
/** A year, a number of an edition, or that there is none to name; an ASTM number ends in its year. */
const EDITION =
  /^(?:ASTM F\d+-\d{2}\b|[^:;,(]+:(?:\d{2}\/)?\d{4}\b|[^:;,(]+, \d+(?:st|nd|rd|th) edition \(\d{4}\)|[^:;,(]+,? \(?edition not consulted)/;
/** A paper: volume, year and page. */
const PAPER = /\d+ \(\d{4}\) \d+/;

/** Each standard of a text, with what is said of it. */
const standards = (text: string): string[] =>
  [...text.matchAll(STANDARD)].map(({ index }) => text.slice(index).split(/[;\n]/, 1)[0] ?? '');

const withoutEdition = (text: string): string[] => standards(text).filter((one) => !EDITION.test(one));

describe('the source of each figure names a standard with its edition, a paper, or says that there is none', () => {
  test.each(FIGURES.map(({ name, source }) => [name, source] as const))('%s', (_, source) => {
    expect(withoutEdition(source)).toEqual([]);
    const stands = standards(source).length > 0 || PAPER.test(source);
    expect(stands || source.endsWith('common practice, no source'), source).toBe(true);
  });

  test('a standard whose edition is not said is found', () => {
    expect(withoutEdition('proportion (ASTM F685 and others)')).toEqual(['ASTM F685 and others)']);
    expect(withoutEdition('ISO 216 (sizes of the A series)')).toHaveLength(1);
    expect(withoutEdition('ISO/CIE 11664-6; WMO-No. 8 (2008)')).toHaveLength(2);
  });
});

test('every line of a preset says where it is from', () => {
  for (const name of readdirSync(join(ROOT, 'shared/limits'))) {
    const lines = readFileSync(join(ROOT, 'shared/limits', name), 'utf8').split('\n');
    lines.forEach((line, at) => {
      if (!/\{|reference_coverage/.test(line) || line.trim().startsWith('#')) return;
      let from = at;
      while (from > 0 && lines[from - 1]?.trim().startsWith('#')) from -= 1;
      const comment = lines.slice(from, at).join(' ');
      expect(comment, `${name}: ${line}`).toMatch(
        /Source: |From memory, text not consulted: |Common practice, no source: /,
      );
      expect(withoutEdition(comment)).toEqual([]);
    });
  }
});

/** Every text of the sources that can come out of the program: what stands between quotation marks. */
function textsOf(file: string): string[] {
  const texts: string[] = [];
  const look = (node: ts.Node): void => {
    if (ts.isStringLiteralLike(node) || ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node)) {
      texts.push(node.text);
    }
    ts.forEachChild(node, look);
  };
  look(ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest));
  return texts;
}

/** Files of a folder and below, by their endings. */
const filesIn = (folder: string, ...endings: string[]): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => endings.some((ending) => name.endsWith(ending)))
    .map((name) => join(ROOT, folder, name));

/** What says nothing to someone who wants to look a source up, or is our own word for having read it. */
const VAGUE =
  /public (?:note|page|repository|test suite)|test[- ]house|\bSEEN\b|\b(?:not|was|were|text|abstracts?|data|figures) seen\b|[(;,] ?seen[ );,]|\bseen (?:second-hand|in a )/;

test('what is shipped names its sources plainly', () => {
  const texts = [
    join(ROOT, 'README.md'),
    ...filesIn('shared', '.md', '.yaml', '.json'),
    ...filesIn('examples', '.yaml'),
  ].map((file) => [file, readFileSync(file, 'utf8')] as const);
  const said = filesIn('src', '.ts').map((file) => [file, textsOf(file).join('\n')] as const);
  const found = [...texts, ...said].flatMap(([file, text]) => {
    const vague = text.split('\n').filter((line) => VAGUE.test(line));
    const bare = standards(text).filter((one) => /^(?:ASTM|ILAC|JIS)/.test(one) && !EDITION.test(one));
    return [...vague, ...bare].map((line) => `${file}: ${line}`);
  });
  expect(found).toEqual([]);
});

test.each([
  'the clauses were not seen',
  'ASTM F2036-05, 3.2; seen)',
  'abstracts (seen): 5 %',
  'SEEN in a public note citing the page',
  'a test house’s page',
])('a vague source is found: %s', (text) => {
  expect(text).toMatch(VAGUE);
});

test('a thing that can be seen is no source', () => {
  expect('a name with a character that cannot be seen; Seen by, for the customer').not.toMatch(VAGUE);
});
