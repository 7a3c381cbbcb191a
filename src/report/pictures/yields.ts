import { dot, ruleX, ruleY, text } from '@observablehq/plot';
import type { PooledCartridge } from '../../pool/cartridge.ts';
import type { Group } from '../../pool/group.ts';
import type { Decimal } from '../../uncertainty/decimal.ts';
import type { Picture } from '../content.ts';
import { ACCENT, around, INK, PAPER, picture, rowsOf } from './draw.ts';

interface Line {
  readonly word: string;
  readonly at: number;
  readonly dash: string;
}

/** More rows than this are drawn without names. */
const MOST_NAMES = 34;
const ROW = 22;

const whole = (value: number): string => value.toFixed(0);

/** The yields of a group's cartridges, with their mean and its bounds. */
export function yieldsPicture(group: Group, cartridges: readonly PooledCartridge[]): Picture[] {
  const yields = cartridges
    .filter(({ failed }) => !failed)
    .map(({ pages, exhausted, serial, file }) => ({
      pages: pages.toNumber(),
      exhausted,
      name: serial ?? file.split('/').at(-1) ?? file,
    }))
    .toSorted((a, b) => b.pages - a.pages)
    .map((one, row) => ({ ...one, row }));
  if (yields.length === 0) return [];
  const line = (word: string, value: Decimal | null, dash: string): Line[] =>
    value === null ? [] : [{ word, at: value.toNumber(), dash }];
  const lines = [
    ...line('mean', group.mean, ''),
    ...line('lower bound', group.lowerBound, '7 4'),
    ...line('clustered lower bound', group.clusteredLowerBound, '2 3'),
    ...line('claim', group.claim?.pages ?? null, '9 3 2 3'),
  ];
  const few = yields.length <= MOST_NAMES;
  const rows = rowsOf(yields.map(({ name }) => name));
  const [low, high] = around([...yields.map(({ pages }) => pages), ...lines.map(({ at }) => at)]);
  const top = 12 + 16 * lines.length;
  const what = [group.slot, group.lot].filter((part) => part !== null).join(', lot ');
  const dashes = lines.map(({ word, dash }) => `${DASHES[dash] ?? ''}: ${word}`).join('; ');
  return [
    picture({
      title: `Yield at reference of every cartridge${what === '' ? '' : `, ${what}`}, pages`,
      alternative: [
        `${yields.length} cartridges.`,
        ...lines.map(({ word, at }) => `${word}: ${whole(at)}.`),
        ...yields
          .slice(0, MOST_NAMES)
          .map(({ name, pages, exhausted }) => `${name}: ${exhausted ? '' : 'at least '}${whole(pages)}.`),
        ...(few
          ? []
          : [`And ${yields.length - MOST_NAMES} more, down to ${whole(yields.at(-1)?.pages ?? 0)}.`]),
      ].join(' '),
      key: `Filled circle: ran until exhausted${yields.some(({ exhausted }) => !exhausted) ? '; open triangle with a dotted line: at least so many' : ''}. Uprights, ${dashes}.`,
      options: {
        height: top + 46 + yields.length * (few ? ROW : Math.min(5, 700 / yields.length)),
        marginTop: top,
        marginBottom: 44,
        marginLeft: few ? rows.space : 24,
        marginRight: 24,
        x: {
          domain: [low, high],
          label: 'yield at reference, pages',
          labelAnchor: 'center',
          labelArrow: 'none',
          ticks: 6,
          tickFormat: whole,
        },
        y: few ? rows.axis : { ...rows.axis, ticks: [], axis: null },
      },
      marks: [
        ...lines.map(({ at, dash }, index) =>
          ruleX([at], {
            stroke: INK,
            strokeWidth: 1.5,
            strokeDasharray: dash || 'none',
            insetTop: -4 - 16 * index,
          }),
        ),
        ...lines.map(({ word, at }, index) => {
          const right = at < (low + high) / 2;
          return text([`${word} ${whole(at)}`], {
            x: at,
            frameAnchor: 'top',
            dy: -12 - 16 * index,
            dx: right ? 5 : -5,
            textAnchor: right ? 'start' : 'end',
            fill: INK,
            stroke: PAPER,
            strokeWidth: 5,
          });
        }),
        ruleY(yields, { y: 'row', stroke: INK, strokeOpacity: few ? 0.12 : 0 }),
        ruleY(
          yields.filter(({ exhausted }) => !exhausted),
          { y: 'row', x1: 'pages', x2: high, stroke: ACCENT, strokeDasharray: '2 3', strokeWidth: 2 },
        ),
        dot(yields, {
          y: 'row',
          x: 'pages',
          r: few ? 5 : 2,
          symbol: ({ exhausted }: { exhausted: boolean }) => (exhausted ? 'circle' : 'triangle'),
          fill: ({ exhausted }: { exhausted: boolean }) => (exhausted ? ACCENT : PAPER),
          stroke: ACCENT,
          strokeWidth: 1.5,
        }),
      ],
    }),
  ];
}

const DASHES: Readonly<Record<string, string>> = {
  '': 'full line',
  '7 4': 'dashed',
  '2 3': 'dotted',
  '9 3 2 3': 'dash and dot',
};
