import fc from 'fast-check';
import { micromark } from 'micromark';
import { gfm, gfmHtml } from 'micromark-extension-gfm';
import { expect, test } from 'vitest';
import { plain } from '../../src/report/markdown.ts';
import { HOSTILE, trialWith } from './hostile.ts';
import { runReport } from './run-report.ts';

// micromark follows the specifications of CommonMark and of GitHub's dialect, autolinks included.
const rendered = (markdown: string): string =>
  micromark(markdown, { extensions: [gfm()], htmlExtensions: [gfmHtml()], allowDangerousHtml: true });

const tags = (html: string): Set<string> =>
  new Set([...html.matchAll(/<\/?([a-z][a-z0-9]*)/gi)].map(([, tag]) => tag ?? ''));

test.each(HOSTILE.map((text) => [text]))('%j becomes no mark-up', (text) => {
  expect([...tags(rendered(plain(text)))]).toEqual(['p']);
  expect([...tags(rendered(`- ${plain(text)}`))]).toEqual(['ul', 'li']);
});

test('no text becomes mark-up', () => {
  const pieces = fc.array(fc.oneof(fc.constantFrom(...HOSTILE), fc.string(), fc.string({ unit: 'binary' })), {
    minLength: 1,
    maxLength: 4,
  });
  fc.assert(
    fc.property(pieces, (parts) => {
      const text = parts.join('');
      fc.pre(text.trim() !== '' && plain(text) !== '');
      for (const tag of tags(rendered(`x ${plain(text)}`))) expect(tag).toBe('p');
      for (const tag of tags(rendered(plain(text)))) expect(tag).toBe('p');
    }),
    { numRuns: 600 },
  );
});

test('a report of hostile texts has headings, lists and tables, and nothing else', () => {
  const { out } = runReport(['t.yaml', '--format', 'md', '--output', '-'], {
    't.yaml': trialWith(HOSTILE.join(' ')),
  });
  const allowed = ['h1', 'h2', 'h3', 'p', 'strong', 'ul', 'li', 'table', 'thead', 'tbody', 'tr', 'th', 'td'];
  for (const tag of tags(rendered(out))) expect(allowed).toContain(tag);
});

test('the tables of a report keep their columns', () => {
  const { out } = runReport(['examples/four-colour-pass.yaml', '--format', 'md', '--output', '-']);
  const html = rendered(out);
  expect(html).toContain('<h2>Pass. Closest to its limit');
  expect(html.match(/<table>/g)?.length).toBeGreaterThan(8);
  expect(html).toContain(
    '<td>met</td>\n<td>waste per thousand pages</td>\n<td>18.833\u00a0±\u00a00.068\u00a0g</td>\n<td>at most 25\u00a0g</td>\n<td>6.167\u00a0g inside</td>',
  );
  expect(html).not.toMatch(/<img|<a /);
});
