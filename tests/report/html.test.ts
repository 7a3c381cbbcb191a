import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { HtmlValidate } from 'html-validate';
import { parseHTML } from 'linkedom';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { escaped } from '../../src/report/escape.ts';
import { HOSTILE, trialWith } from './hostile.ts';
import { htmlOf, runReport } from './run-report.ts';

vi.setConfig({ testTimeout: 60_000 });

interface Element {
  readonly localName: string;
  readonly attributes: readonly { readonly name: string; readonly value: string }[];
  readonly textContent: string;
}

/** Every element of a page, as a parser of its own sees it. */
function elementsOf(page: string): Element[] {
  const { document } = parseHTML(page) as unknown as {
    document: { querySelectorAll(all: '*'): Iterable<Element> };
  };
  return [...document.querySelectorAll('*')];
}

const ELEMENTS = new Set(
  'html head meta title style body header main footer nav section h1 h2 h3 p ul li a div span dl dt dd table caption thead tbody tr th td figure figcaption strong img wbr svg desc g path line circle rect text tspan'.split(
    ' ',
  ),
);

const pages = (): [string, string][] =>
  ['four-colour-pass', 'draft-with-slips', 'warm-room', 'not-exhausted', 'harbour-street']
    .map((name): [string, string] => [name, runReport([`examples/${name}.yaml`, '--output', '-']).out])
    .concat([
      [
        'pool',
        runReport(['examples/pool', '--output', '-', '--trend', 'waste_per_thousand', '--claim', '10500'])
          .out,
      ],
      ['hostile', htmlOf(trialWith(HOSTILE.join(' ')))],
    ]);

let made: [string, string][] = [];
beforeAll(() => {
  made = pages();
});

test('the pages pass html-validate', async () => {
  // A title is cut to 70 letters; this rule counts an escaped one as the five or six it is written with.
  const title = (name: string) => (name === 'hostile' ? 'off' : 'error');
  const validatorOf = (name: string) =>
    new HtmlValidate({
      extends: ['html-validate:recommended', 'html-validate:document'],
      rules: {
        // The void elements and the doctype are written as the HTML standard’s own examples write them.
        'void-style': ['error', { style: 'omit' }],
        'long-title': title(name),
      },
    });
  for (const [name, page] of made) {
    const report = await validatorOf(name).validateString(page, `${name}.html`);
    expect(
      report.results.flatMap(({ messages }) =>
        messages.map(({ ruleId, message, line }) => `${name}:${line} ${ruleId} ${message}`),
      ),
    ).toEqual([]);
  }
});

describe('the page', () => {
  test('lets nothing in but its own style, by digest, and images inside it', () => {
    for (const [, page] of made) {
      const style = /<style>([\s\S]*?)<\/style>/.exec(page)?.[1] ?? '';
      const digest = createHash('sha256').update(style).digest('base64');
      expect(page).toContain(
        `content="default-src 'none'; img-src data:; style-src 'sha256-${digest}'; base-uri 'none'; form-action 'none'"`,
      );
    }
  });

  test('has no script, no style of its own in an element, no address outside, and every id once', () => {
    for (const [name, page] of made) {
      const elements = elementsOf(page);
      expect(elements.length).toBeGreaterThan(100);
      const ids: string[] = [];
      for (const { localName, attributes } of elements) {
        expect(ELEMENTS, name).toContain(localName);
        for (const { name: attribute, value } of attributes) {
          expect(attribute).not.toMatch(/^(on|style$|xlink)/);
          if (attribute === 'href') expect(value).toMatch(/^#part-\d+$/);
          if (attribute === 'src') expect(value).toMatch(/^data:image\/(png|jpeg|webp);base64,[\w+/=]+$/);
          if (attribute === 'id') ids.push(value);
        }
      }
      expect(new Set(ids).size).toBe(ids.length);
    }
  });

  test('shows no number that is none, and nothing undefined', () => {
    for (const [, page] of made)
      expect(page.replace(/base64,[^"]*/g, '')).not.toMatch(/NaN|Infinity|undefined|\[object|null/);
  });

  test('has every part that a customer, a manager and an auditor look for, in this order', () => {
    const page = made[0]?.[1] ?? '';
    const titles = [...page.matchAll(/<h2 id="part-[^>]*>([^<]*)</g)].map(([, title]) => title);
    expect(titles).toEqual([
      'What was tried',
      'How it was tried',
      'Results',
      'Candidate beside reference',
      'Yields of the cartridges',
      'Prints and inspection',
      'The run and its events',
      'Stated figures and readings',
      'What could not be decided',
      'Warnings and notes',
      'Formulas used, and their sources',
      'Handling and disposal of toner and waste',
      'Signatures',
      'What this report was made from',
    ]);
  });

  test('gives every picture a title, labelled axes and the numbers in words', () => {
    const page = made[0]?.[1] ?? '';
    const pictures = page.match(/<svg [^>]*role="img"[\s\S]*?<\/svg>/g) ?? [];
    expect(pictures.length).toBeGreaterThan(10);
    for (const picture of pictures) {
      expect(picture).toMatch(
        /^<svg (?:class="\w+" )?role="img" aria-labelledby="(picture-\d+)-title" aria-describedby="\1-text"/,
      );
      expect(picture).toMatch(
        /<title id="picture-\d+-title">[^<]+<\/title><desc id="picture-\d+-text">[^<]*\d[^<]*<\/desc>/,
      );
    }
    expect(page).toContain(
      '<desc id="picture-4-text">waste per thousand pages: 18.83\u00a0±\u00a00.15, limit at most 25 g, met, margin 6.17 g.</desc>',
    );
  });
});

describe('text of a file stays text', () => {
  test.each(HOSTILE.map((text) => [text]))('%j', (text) => {
    const elements = elementsOf(htmlOf(trialWith(text)));
    for (const { localName, attributes } of elements) {
      expect(ELEMENTS).toContain(localName);
      for (const { name } of attributes) expect(name).not.toMatch(/^(on|style$)/);
    }
    expect(elements.filter(({ localName }) => localName === 'style')).toHaveLength(1);
    expect(elements.filter(({ localName }) => localName === 'a').length).toBe(14);
  });

  test('whatever it is', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => {
        const { document } = parseHTML(
          `<!doctype html><html><body><p title="${escaped(text)}">${escaped(text)}</p></body></html>`,
        ) as unknown as {
          document: { querySelectorAll(all: '*'): Iterable<Element> };
        };
        const inside = [...document.querySelectorAll('*')].map(({ localName }) => localName);
        expect(inside.filter((name) => !['html', 'head', 'body'].includes(name))).toEqual(['p']);
      }),
      { numRuns: 500 },
    );
  });

  test('in a whole report too', () => {
    const part = fc.oneof(fc.constantFrom(...HOSTILE), fc.string({ maxLength: 20 }));
    fc.assert(
      fc.property(fc.array(part, { minLength: 1, maxLength: 3 }), (parts) => {
        const { code, out } = runReport(['t.yaml', '--output', '-'], { 't.yaml': trialWith(parts.join('')) });
        fc.pre(code === 0);
        expect(elementsOf(out).every(({ localName }) => ELEMENTS.has(localName))).toBe(true);
      }),
      { numRuns: 15 },
    );
  });
});

test('a trial of very many readings makes a page of pictures that fit on paper', () => {
  const many = (count: number, line: (nth: number) => string): string =>
    Array.from({ length: count }, (_, nth) => `  - ${line(nth)}`).join('\n');
  const page = htmlOf(`trial: a logger and an army
meter: {start: 0, end: 100000}
coverage: 5 %
waste_container: {tare: 600 g, final: 2600 g}
batches:
${many(300, (nth) => `{end: ${(nth + 1) * 300}, container_mass: ${600 + nth * 5} g}`)}
cartridges:
${many(200, (nth) => `{slot: s${nth}, start_mass: 800 g, end_mass: ${700 - nth} g, exhausted_at: ${50000 + nth}}`)}
ambient:
${many(10000, (nth) => `{temperature: ${20 + (nth % 5)}, humidity: ${40 + (nth % 7)}}`)}
events:
${many(3000, (nth) => `{at: ${nth * 33}, kind: jam}`)}
prints:
  patches:
${many(90, (nth) => `{patch: p${nth}, first: {lab: [50, 1, 2]}, last: {lab: [${50 + (nth % 9)}, 1, 2]}}`).replace(/^/gm, '  ')}
limits: {yield_at_reference: {min: 40000}, colour_difference: {max: 5}, temperature: {min: 18, max: 26}}
`);
  const heights = [...page.matchAll(/viewBox="0 0 640 ([\d.]+)"/g)].map(([, height]) => Number(height));
  expect(heights.length).toBeGreaterThan(15);
  // What a page of Letter leaves, at the width pictures are printed in.
  expect(Math.max(...heights)).toBeLessThan(900);
  expect(page.length).toBeLessThan(3_000_000);
});

test('a cartridge that was changed and not listed has no formula with its pages, and the page is whole', () => {
  const page = htmlOf(`trial: Weir Street lot 4
meter: {start: 10000, end: 30000}
coverage: 5 %
cartridges: [{slot: black, start_mass: 900 g, end_mass: 500 g, price: 40 EUR}]
events: [{at: 20000, kind: cartridge_change, slot: black}]
`);
  expect(page).toContain('toner used');
  expect(page).toMatch(/<\/html>\n$/);
});
