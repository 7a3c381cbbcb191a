import { dot, ruleX, ruleY, text } from '@observablehq/plot';
import { groupName } from '../../output/pool-words.ts';
import type { PooledCartridge } from '../../pool/cartridge.ts';
import type { Group } from '../../pool/group.ts';
import type { Decimal } from '../../uncertainty/decimal.ts';
import type { Picture } from '../content.ts';
import { typeset } from '../typeset.ts';
import { ACCENT, around, forBoth, INK, namedBelow, PAPER, picture, rowsOf } from './draw.ts';

interface Line {
  readonly word: string;
  readonly at: number;
  readonly dash: string;
}

/** A cartridge, or the mean of a machine's cartridges, as a row. */
interface Row {
  readonly kind: 'cartridge' | 'machine';
  readonly name: string;
  readonly pages: number;
  readonly exhausted: boolean;
}

/** Of more rows only those of the machines have names. */
const MOST_NAMES = 34;
const ROW = 22;
/** Height of a picture of very many rows, and of one of them at most. */
const [HIGHEST, ROW_OF_MANY] = [700, 6];

const whole = (value: number): string => typeset(value.toFixed(0));

/** The yields of a group's cartridges machine by machine, with each machine's mean, the mean of all and its bounds. */
export function yieldsPicture(group: Group, cartridges: readonly PooledCartridge[]): Picture[] {
  const all = rowsByMachine(cartridges).map((one, row) => ({ ...one, row }));
  const yields = all.filter(({ kind }) => kind === 'cartridge');
  const means = all.filter(({ kind }) => kind === 'machine');
  if (yields.length === 0) return [];
  const line = (word: string, value: Decimal | null, dash: string): Line[] =>
    value === null ? [] : [{ word, at: value.toNumber(), dash }];
  // From right to left: each reaches higher than those to its right, so that no line crosses a label.
  const lines = [
    ...line('mean', group.mean, ''),
    ...line('lower bound', group.lowerBound, '7 4'),
    ...line('clustered lower bound', group.clusteredLowerBound, '2 3'),
    ...line('tolerance bound', group.toleranceBound, '1 5'),
    ...line('claim', group.claim?.pages ?? null, '9 3 2 3'),
  ].toSorted((a, b) => b.at - a.at);
  // A telephone has more room to the left, where the names of the rows are.
  const levels = (slim: boolean): readonly Line[] => (slim ? lines.toReversed() : lines);
  const few = all.length <= MOST_NAMES;
  const step = few ? ROW : Math.min(ROW_OF_MANY, HIGHEST / all.length);
  const headed = all.length / Math.max(1, means.length) >= 13 / step;
  const names = all.map(({ name, kind }) => (few || (headed && kind === 'machine') ? name : ''));
  const [low, high] = around([...all.map(({ pages }) => pages), ...lines.map(({ at }) => at)]);
  const top = 12 + 16 * lines.length;
  const what = groupName(group);
  const dashes = lines.map(({ word, dash }) => `${DASHES[dash] ?? ''}: ${word}`).join('; ');
  return [
    picture({
      title: `Yield at reference coverage of every cartridge${what === '' ? '' : `, ${what}`}, pages`,
      alternative: [
        `${yields.length} cartridges.`,
        ...lines.map(({ word, at }) => `${word}: ${whole(at)}.`),
        ...means.map(({ name, pages }) => `${name}: mean ${whole(pages)}.`),
        ...yields
          .slice(0, MOST_NAMES)
          .map(({ name, pages, exhausted }) => `${name}: ${exhausted ? '' : 'at least '}${whole(pages)}.`),
        ...(yields.length <= MOST_NAMES ? [] : [`And ${yields.length - MOST_NAMES} more.`]),
      ].join(' '),
      key: `Filled circle: ran until exhausted${yields.some(({ exhausted }) => !exhausted) ? '; open triangle with a dotted line: at least so many' : ''}${means.length > 0 ? '; open square: mean of the exhausted cartridges of a machine' : ''}. Uprights, ${dashes}.${low > 0 ? ' The axis does not begin at zero.' : ''}`,
      ...forBoth((slim) => ({
        options: {
          height: top + 46 + all.length * step,
          marginTop: top,
          marginBottom: 44,
          marginLeft: Math.max(rowsOf(names, slim).space, slim ? 110 : 24),
          marginRight: slim ? 24 : 120,
          x: {
            domain: [low, high],
            ...namedBelow('yield at reference coverage, pages'),
            ticks: slim ? 3 : 5,
            tickFormat: whole,
          },
          y: rowsOf(names, slim).axis,
        },
        marks: [
          ruleY(
            all.map(({ row }) => row),
            { stroke: INK, strokeOpacity: few ? 0.12 : 0 },
          ),
          ...levels(slim).map(({ at, dash }, index) =>
            ruleX([at], {
              stroke: INK,
              strokeWidth: 1.5,
              strokeDasharray: dash || 'none',
              insetTop: -4 - 16 * index,
            }),
          ),
          ...levels(slim).map(({ word, at }, index) =>
            text([`${slim ? word.replace(' bound', '') : word} ${whole(at)}`], {
              x: at,
              frameAnchor: 'top',
              dy: -12 - 16 * index,
              dx: slim ? -5 : 5,
              textAnchor: slim ? 'end' : 'start',
              fill: INK,
            }),
          ),
          ruleY(
            yields.filter(({ exhausted }) => !exhausted),
            { y: 'row', x1: 'pages', x2: high, stroke: ACCENT, strokeDasharray: '2 3', strokeWidth: 2 },
          ),
          dot(yields, {
            y: 'row',
            x: 'pages',
            r: few ? 5 : 2,
            symbol: ({ exhausted }: Row) => (exhausted ? 'circle' : 'triangle'),
            fill: ({ exhausted }: Row) => (exhausted ? ACCENT : PAPER),
            stroke: ACCENT,
            strokeWidth: 1.5,
          }),
          dot(means, {
            y: 'row',
            x: 'pages',
            r: few ? 5 : 3,
            symbol: 'square',
            fill: PAPER,
            stroke: INK,
            strokeWidth: 1.5,
          }),
        ],
      })),
    }),
  ];
}

/** Cartridges machine by machine, the greatest yield first, with the mean of each machine above its own. */
function rowsByMachine(cartridges: readonly PooledCartridge[]): Row[] {
  const good = cartridges.filter(({ failed }) => !failed);
  const machines = [...new Set(good.map(({ machine }) => machine))].toSorted((a, b) =>
    (a ?? '') < (b ?? '') ? -1 : 1,
  );
  return machines.flatMap((machine): Row[] => {
    const own = good.filter((one) => one.machine === machine).toSorted((a, b) => b.pages.cmp(a.pages));
    const run = own.filter(({ exhausted }) => exhausted).map(({ pages }) => pages.toNumber());
    const mean = run.reduce((sum, pages) => sum + pages, 0) / run.length;
    const head: Row[] =
      machine === null || machines.length < 2 || run.length === 0
        ? []
        : [{ kind: 'machine', name: `machine ${machine}`, pages: mean, exhausted: true }];
    return [
      ...head,
      ...own.map(({ serial, file, pages, exhausted }): Row => ({
        kind: 'cartridge',
        name: serial ?? file.split('/').at(-1) ?? file,
        pages: pages.toNumber(),
        exhausted,
      })),
    ];
  });
}

const DASHES: Readonly<Record<string, string>> = {
  '': 'full line',
  '7 4': 'dashed',
  '2 3': 'dotted',
  '1 5': 'thinly dotted',
  '9 3 2 3': 'dash and dot',
};
