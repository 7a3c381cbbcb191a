import { describe, expect, test } from 'vitest';
import { harmlessSvg } from '../../src/report/svg-logo.ts';
import { bytesOf, GIF, IMAGES } from './images.ts';
import { runReport } from './run-report.ts';

const TRIAL = `trial: Ferry Steps lot 3
meter: {start: 100, end: 10100}
waste_container: {tare: 640 g, final: 840 g}
limits: {waste_per_thousand: {max: 25 g}}
`;
const HEAD = `name: Lantern Row Testing
address: [12 Lantern Row, Harbourside]
logo: logo
number: LR-031
revision: "2"
issued: 2026-04-20
customer: Weir Street Offices
place: the bench room
received: 2026-03-02
authorised_by: R. Okoye
`;
const SVG = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 40" onload="alert(1)">
  <script>alert(1)</script><style>* { fill: url(https://example.org) }</style>
  <defs><linearGradient id="a"><stop offset="0" stop-color="#123"/></linearGradient></defs>
  <rect width="40" height="40" fill="url(#a)" style="fill: red"/><circle r="4" fill="url(https://example.org)"/>
  <image href="https://example.org/x.png"/><a href="javascript:alert(1)"><path d="M0,0"/></a>
  <foreignObject><p>x</p></foreignObject><text x="50">Lantern &amp; Row</text>
</svg>`;

const withHead = (
  head: string,
  more: Readonly<Record<string, string | Uint8Array>> = {},
  ...options: string[]
) =>
  runReport(['t.yaml', '--letterhead', 'head/own.yaml', '--output', '-', ...options], {
    't.yaml': TRIAL,
    'head/own.yaml': head,
    ...more,
  });

test('the letterhead says who sends it, to whom, and under which number; the page carries the number on', () => {
  const { code, out } = withHead(HEAD, { 'head/logo': SVG });
  expect(code).toBe(0);
  const text = out.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ');
  expect(text).toContain('Lantern Row Testing 12 Lantern Row Harbourside');
  expect(text).toContain('For Weir Street Offices');
  expect(text).toContain(
    'report LR-031 revision 2 issued 2026-04-20 received 2026-03-02 place of test the bench room',
  );
  expect(text).toContain('What is signed: LR-031, revision 2, Ferry Steps lot 3. Pass.');
  expect(text).toContain('Authorised by R. Okoye.');
  // On every printed page, written as numbers of characters: LR-031, revision 2.
  expect(out).toContain('@top-right { content: "LR\\00002d 031\\00002c  revision 2"; }');
});

test('the command line says number, revision and day over it, and without it', () => {
  const { out } = withHead('name: x\nnumber: A\n', {}, '--number', 'B', '--issued', '2026-05-01');
  expect(out).toContain('<dt>report</dt><dd>B</dd>');
  expect(out).toContain('<dt>issued</dt><dd>2026-05-01</dd>');
  const alone = runReport(['t.yaml', '--number', 'C', '--output', '-'], { 't.yaml': TRIAL }).out;
  expect(alone).toContain('<dt>report</dt><dd>C</dd>');
});

test('no day is taken from the clock', () => {
  const { out } = runReport(['t.yaml', '--output', '-'], { 't.yaml': TRIAL });
  expect(out).not.toContain(String(new Date().getFullYear()));
});

describe('a logo', () => {
  test.each(IMAGES.filter(([, type]) => type !== 'image/webp'))('%s goes in as it is', (_, type, base64) => {
    const { out } = withHead(HEAD, { 'head/logo': bytesOf(base64) });
    expect(out).toContain(`<img src="data:${type};base64,${base64}" width="7" height="5" alt="Logo: Lantern`);
  });

  test('drawn as SVG keeps shapes and text, and nothing that runs, fetches or links', () => {
    expect(harmlessSvg(SVG)).toEqual({
      width: 120,
      height: 40,
      svg: expect.stringMatching(
        /^<svg xmlns="http:\/\/www.w3.org\/2000\/svg" viewBox="0 0 120 40">\s*<defs><linearGradient id="a"><stop offset="0" stop-color="#123"><\/stop><\/linearGradient><\/defs>\s*<rect width="40" height="40" fill="url\(#a\)"><\/rect><circle r="4"><\/circle>\s*<text x="50">Lantern &amp; Row<\/text>\s*<\/svg>$/,
      ) as string,
    });
    const { out } = withHead(HEAD, { 'head/logo': SVG });
    const inside = /data:image\/svg\+xml;base64,([\w+/=]+)/.exec(out)?.[1] ?? '';
    expect(Buffer.from(inside, 'base64').toString()).not.toMatch(/script|onload|example|style|href|foreign/);
  });

  test.each([
    ['no size', '<svg xmlns="http://www.w3.org/2000/svg"/>', 'is no PNG, JPEG or SVG that says its size'],
    ['a GIF', bytesOf(GIF), 'is no PNG, JPEG or SVG that says its size'],
    ['no image', 'logo', 'is no PNG, JPEG or SVG that says its size'],
    ['too large', new Uint8Array(1024 * 1024 + 1), 'has more than 1 MiB; make it smaller'],
  ])('%s is refused with its place', (_, logo, why) => {
    const { code, err, out } = withHead(HEAD, { 'head/logo': logo });
    expect(code).toBe(3);
    expect(err).toBe(`tallytare: head/own.yaml:3:7: the logo logo ${why}\n`);
    expect(out).toBe('');
  });

  test('from another folder is refused', () => {
    const { code, err } = withHead(HEAD.replace('logo: logo', 'logo: ../logo'), { logo: SVG });
    expect(code).toBe(3);
    expect(err).toContain('is not in the letterhead’s folder or below');
  });
});

test.each([
  ['nam: x\n', 'Did you mean "name"?'],
  ['number: 5\n', 'The key "name" is missing'],
  ['name: x\nissued: soon\n', 'own.yaml:2:9'],
])('a letterhead that cannot be read is said with its place: %j', (head, said) => {
  const { code, err, out } = withHead(head);
  expect(code).toBe(3);
  expect(err).toContain(said);
  expect(out).toBe('');
});

test('in the folder of the trials it is no trial', () => {
  const { code, written } = runReport(
    ['lot', '--letterhead', 'lot/own.yaml', '--each', '--output', 'i.html'],
    {
      'lot/t.yaml': TRIAL,
      'lot/own.yaml': 'name: Lantern Row Testing\n',
    },
  );
  expect(code).toBe(0);
  expect(Object.keys(written).toSorted()).toEqual(['i.html', 'lot/t.html']);
});
