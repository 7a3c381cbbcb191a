import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { HtmlValidate } from 'html-validate';
import { parseHTML } from 'linkedom';
import { beforeAll, describe, expect, test } from 'vitest';
import { escaped } from '../../src/report/escape.ts';
import { HOSTILE, trialWith } from './hostile.ts';
import { htmlOf, runReport } from './run-report.ts';

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
  'html head meta title style body header main footer nav section h1 h2 h3 p ul ol li details summary a div span dl dt dd table caption thead tbody tr th td figure figcaption strong img wbr bdi svg desc g path line circle rect text tspan'.split(
    ' ',
  ),
);

const pages = (): [string, string][] =>
  ['four-colour-pass', 'draft-with-slips', 'warm-room', 'not-exhausted', 'harbour-street', 'lot-to-try']
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
          if (attribute === 'href')
            expect(value).toMatch(/^#part-\d+$|^data:application\/json;base64,[\w+/=]+$/);
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
      'What was agreed, and what came out',
      'What was tried',
      'How it was tried',
      'Results of the run',
      'Yields of the cartridges',
      'Candidate beside reference',
      'Prints',
      'Findings',
      'The run and its events',
      'Remarks',
      'Signatures',
      'Annex A: Raw readings',
      'Annex B: Where the uncertainty comes from',
      'Annex C: Formulas used, and their sources',
      'Annex D: Handling and disposal of toner and waste',
      'Annex E: What this report was made from',
    ]);
  });

  test('gives every picture a title, labelled axes and the numbers in words', () => {
    const page = made[0]?.[1] ?? '';
    const pictures = page.match(/<svg [^>]*role="img"[\s\S]*?<\/svg>/g) ?? [];
    expect(pictures.length).toBeGreaterThan(8);
    for (const picture of pictures) {
      expect(picture).toMatch(
        /^<svg (?:class="\w+" )?role="img" aria-labelledby="(picture-\d+(?:-slim)?)-title" aria-describedby="\1-text"/,
      );
      expect(picture).toMatch(
        /<title id="picture-\d+(?:-slim)?-title">[^<]+<\/title><desc id="picture-\d+(?:-slim)?-text">[^<]*\d[^<]*<\/desc>/,
      );
    }
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
    // Links lead to the parts of the page and to the verdict as data inside it, and nowhere else.
    const parts = elements.filter(({ attributes }) =>
      attributes.some(({ name, value }) => name === 'id' && value.startsWith('part-')),
    );
    expect(parts.length).toBeGreaterThan(12);
    expect(elements.filter(({ localName }) => localName === 'a').length).toBe(parts.length + 1);
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
  const heights = [...page.matchAll(/viewBox="0 0 (?:640|340) ([\d.]+)"/g)].map(([, height]) =>
    Number(height),
  );
  expect(heights.length).toBeGreaterThan(8);
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

describe('the limits', () => {
  /** 10 000 pages, 300 g of waste, 10 g of it for each thousand pages more than 20 g. */
  const page = (): string =>
    htmlOf(`trial: Ferry Steps lot 3
meter: {start: 100, end: 10100}
coverage: 5 %
waste_container: {tare: 640 g, final: 940 g}
ambient: [{temperature: 20 °C, humidity: 45 %}, {temperature: 22 °C, humidity: 45 %}]
stated: {pages: 9000}
limits:
  waste_mass: {max: 290 g}
  waste_per_thousand: {max: 20 g}
  yield_at_reference: {min: 12000}
  pages: {min: 9999}
  temperature: {min: 18, max: 22.1}
`);
  const rowsOf = (html: string): string[] =>
    [...html.matchAll(/<li class="(?:met|missed|open)">[\s\S]*?<span class="name">([^<]*)/g)].map(
      ([, name]) => (name ?? '').trim(),
    );

  test('come with the furthest miss first, then what is open, what is closer than U, and what is kept', () => {
    expect(rowsOf(page())).toEqual([
      'waste per thousand pages',
      'waste mass',
      'yield at reference coverage',
      'highest temperature',
      'pages',
      'lowest temperature',
    ]);
  });

  test('that are kept are folded on a screen, behind a details and not in it', () => {
    expect(page()).toMatch(
      /<details class="fold"><summary>2 limits kept: show them<\/summary><\/details>\n<div class="folded">/,
    );
  });

  test('say why they are open, without the names of keys', () => {
    expect(page()).toContain('Why: the cartridge was not exhausted: the figure is only a lower bound.');
    expect(page().replace(/<style>[\s\S]*?<\/style>/, '')).not.toMatch(/waste_|yield_|_per_|exhausted_at/);
  });
});

test('what is written from right to left stands apart from the numbers beside it', () => {
  const page = htmlOf(`trial: x
lot: {id: "לוט 12", size: 400, sampled: 4}
meter: {start: 0, end: 1000}
cartridges: [{slot: "أسود", exhausted_at: 900}]
limits: {yield: {min: 800}}
`);
  expect(page).toContain('<dd><bdi dir="auto">לוט 12</bdi>, 4 of 400 sampled</dd>');
  expect(page).toContain('yield of <bdi dir="auto">أسود</bdi> is 900');
});

test('so it does in equations, in pictures, with its marks, and with the number of its place', () => {
  const page = htmlOf(`trial: "בדיקה (3) של Heron"
meter: {start: 0, end: 12000}
coverage: 5 %
cartridges:
  - {slot: "أسود", serial: "س-12", start_mass: 900 g, end_mass: 700 g, exhausted_at: 5000}
  - {slot: "أسود", start_mass: 900 g, end_mass: 700 g, exhausted_at: 11900}
inspection: [{severity: minor, part: box, note: "כתם (3 מ״מ), ליד 5 = 6"}]
`);
  expect(page).toContain('<h1><bdi dir="auto">בדיקה (3) של Heron</bdi></h1>');
  expect(page).toContain('<bdi dir="auto">כתם (3 מ״מ), ליד 5 = 6</bdi>');
  expect(page).toMatch(/yield, <bdi dir="auto">أسود#2<\/bdi> = \(11\s?900 − /);
  expect(page).toMatch(/<text [^>]*>\u2068أسود\u2069<\/text>/);
  expect(page).toMatch(/<desc [^>]*>[^<]*\u2068أسود[^<]*\u2069: meter 0 to 5000/);
  // Nothing of what marks them inside the program is left.
  expect(page).not.toMatch(/[\ufdd0\ufdd1]/);
});

test('marks that a file brings along are no marks', () => {
  const page = htmlOf('trial: "\ufdd0<b>אב\ufdd1 \ufdd0"\nmeter: {start: 0, end: 1000}\n');
  expect(page).not.toMatch(/[\ufdd0\ufdd1]/);
  expect(page).toContain('&lt;b&gt;');
});

test('what is not recorded is one line', () => {
  const page = htmlOf('trial: x\nmeter: {start: 0, end: 1000}\n');
  expect(page).toContain(
    '<p>Not recorded: the lot; the machine; the days of the trial; who tried it; the document printed; the instruments; the air; events; an inspection; measurements of prints; prints judged by eye; a run with the reference consumable.</p>',
  );
});

test('what is for the house alone comes only when asked for', () => {
  const trial = `trial: x
meter: {start: 0, end: 1000}
waste_container: {tare: 640 g, final: }
stated: {pages: 900}
`;
  const [plain, internal] = [[], ['--internal']].map(
    (more) => runReport(['t.yaml', '--output', '-', ...more], { 't.yaml': trial }).out,
  );
  for (const said of ['line 4', 'waste_container.final', 'For the house']) {
    expect(plain).not.toContain(said);
    expect(internal).toContain(said);
  }
});

test('prints show their first and last colour beside its numbers', () => {
  const page = htmlOf(`trial: x
meter: {start: 0, end: 1000}
prints:
  patches: [{patch: red, first: {lab: [54.29, 80.8, 69.89]}, last: {lab: [29.57, 68.3, -112.03]}}]
`);
  // sRGB red and blue in CIELAB of D50, as tables of the colour spaces give them; from memory.
  expect([...page.matchAll(/<rect width="28" height="18" fill="(#\w+)"/g)].map(([, hex]) => hex)).toEqual([
    '#ff0000',
    '#0000ff',
  ]);
  expect(page).toContain('L*a*b* 29.57 68.3 −112.03');
});

test('findings stand with the worst first, each with a mark', () => {
  const page = htmlOf(`trial: x
meter: {start: 0, end: 1000}
inspection: [{severity: minor, part: clip}, {severity: critical, part: seal}, {severity: none, part: box}]
`);
  const rows = [...page.matchAll(/<td class="severity"[^>]*><span [^>]*>(.)<\/span> (\w+)/g)].map(
    ([, sign, word]) => `${sign} ${word}`,
  );
  expect(rows).toEqual(['■ critical', '△ minor', '○ none']);
});

const spaced = (page: string): string =>
  page
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('\u202f', '')
    .replace(/\s+/g, ' ');

test('raw readings are numbered from 1, and keep the digits they were written with', () => {
  const said = spaced(
    htmlOf(`trial: x
meter: {start: 0, end: 2000}
batches: [{end: 1000}]
waste_container: [{tare: 640 g, final: 660 g}, {tare: 650 g, final: 655 g}]
ambient: [{temperature: 22.0 °C, humidity: 45 %}, {temperature: 21.50 °C, humidity: 46 %}]
limits: {temperature: {max: 26}}
prints: {patches: [{patch: red, first: {density: 1.40, lab: [50.0, 1.5, -2.0]}, last: {lab: [50.0, 1.5, -1.0]}}]}
`),
  );
  expect(said).toContain('batches 1 end 1000 clicks');
  expect(said).toContain('waste container 2 tare 650 ± 0.58 g');
  expect(said).toContain('reading 1 22.0 45 reading 2 21.50 46');
  expect(said).toMatch(/ambient 1 temperature 0\.029/);
  expect(said).toContain('L*a*b* 50.0 1.5 −2.0, density 1.40');
});

test('a counter that rolled over reads as it showed, and what it was counted on as', () => {
  const page = htmlOf(`trial: x
meter: {start: 994200, end: 6200, digits: 6}
cartridges: [{slot: black, exhausted_at: 5870}]
events: [{at: 3000, kind: jam}]
`);
  const said = spaced(page);
  expect(said).toContain('meter end 6200, counted on as 1006200 clicks');
  expect(said).toContain('black: meter 994200 to 5870, exhausted. jam: once, at meter 3000.');
  expect(said).toContain('Dashed upright: the counter began again at 0.');
  expect(said).toContain('3000 jam');
  // Without what it was counted on as, no number is more than the counter shows.
  const shown = spaced(page.replace(/<dl class="formula">[\s\S]*?<\/dl>/g, '')).replace('as 1006200', '');
  expect(shown).not.toMatch(/\b100\d{4}\b/);
});

test('a limit that only a bound is known against does not say how far beyond it is', () => {
  const page = htmlOf(`trial: x
meter: {start: 0, end: 900}
coverage: 5 %
limits: {yield_at_reference: {min: 8000}}
`);
  expect(page).toContain('<li class="open">');
  expect(page).not.toMatch(/class="margin"/);
});

test('every picture has a narrow drawing, hidden where no style shows it', () => {
  const page = made[0]?.[1] ?? '';
  const wide = page.match(/<figure class="picture">/g)?.length ?? 0;
  expect(wide).toBeGreaterThan(6);
  expect(page.match(/<div class="slim" hidden><svg [^>]*viewBox="0 0 340 /g)).toHaveLength(wide);
});
