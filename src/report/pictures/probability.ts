import { areaX, dot, line, text } from '@observablehq/plot';
import { groupName } from '../../output/pool-words.ts';
import type { Group } from '../../pool/group.ts';
import { normalScores } from '../../statistics/normality.ts';
import type { PooledCartridge } from '../../pool/cartridge.ts';
import type { Picture } from '../content.ts';
import { typeset } from '../typeset.ts';
import { ACCENT, around, BAND, forBoth, INK, namedBelow, picture } from './draw.ts';

/** Fewer points lie about a line whatever they come from. */
const FEWEST = 5;

/** Shares of the cartridges named on the axis, in percent, with their places in standard deviations. */
const SHARES: readonly (readonly [share: number, z: number])[] = [
  [1, -2.3263],
  [10, -1.2816],
  [25, -0.6745],
  [50, 0],
  [75, 0.6745],
  [90, 1.2816],
  [99, 2.3263],
];

const whole = (value: number): string => typeset(value.toFixed(0));

/**
 * The yields of a group in order over what a normal sample would have there: a probability plot, which shows whether
 * the bounds that take the yields as normal may be relied on. Only where all were exhausted.
 */
export function probabilityPicture(group: Group, cartridges: readonly PooledCartridge[]): Picture[] {
  const { mean, sd, atLeast, normality } = group;
  const yields = cartridges
    .filter(({ failed, doubted }) => !failed && !doubted)
    .map(({ pages }) => pages.toNumber())
    .toSorted((a, b) => a - b);
  if (atLeast > 0 || yields.length < FEWEST || mean === null || !sd || sd.isZero()) return [];
  const [centre, spread] = [mean.toNumber(), sd.toNumber()];
  const points = normalScores(yields.length).map(({ median, low, high }, rank) => ({
    z: median,
    pages: yields[rank] ?? centre,
    low: centre + spread * low,
    high: centre + spread * high,
  }));
  const outside = points.filter(({ pages, low, high }) => pages < low || pages > high).length;
  const [first, last] = [points[0], points.at(-1)];
  const reach = Math.max(1.4, last?.z ?? 0) * 1.12;
  const shares = SHARES.filter(([, z]) => Math.abs(z) <= reach);
  const [low, high] = around([...yields, first?.low ?? centre, last?.high ?? centre]);
  const what = groupName(group);
  return [
    picture({
      title: `Yields in order beside a normal distribution${what === '' ? '' : `, ${what}`}`,
      alternative: [
        `${yields.length} yields from ${whole(yields[0] ?? 0)} to ${whole(yields.at(-1) ?? 0)} pages, about the line of a normal distribution of their mean and standard deviation;`,
        `${outside === 0 ? 'none is' : outside === 1 ? 'one is' : `${outside} are`} outside the shaded band.`,
        ...(normality === null
          ? []
          : [
              normality.normal
                ? 'The test finds them normal (Anderson and Darling).'
                : 'The test finds them not normal (Anderson and Darling).',
            ]),
      ].join(' '),
      key: 'Line: normal yields of this mean and standard deviation. Shaded: where 95 of 100 normal samples have the yield of that rank. A bend, a step or two slopes: do not rely on the tolerance bound of normal yields. The axis does not begin at zero.',
      ...forBoth((slim) => ({
        options: {
          height: 300,
          marginLeft: slim ? 48 : 64,
          marginRight: slim ? 16 : 24,
          marginTop: 16,
          marginBottom: 44,
          x: {
            domain: [low, high],
            ...namedBelow('yield at reference coverage, pages'),
            ticks: slim ? 3 : 5,
            tickFormat: whole,
          },
          y: {
            domain: [-reach, reach],
            label: null,
            ticks: shares.map(([, z]) => z),
            tickFormat: (z: number) => `${shares.find(([, at]) => at === z)?.[0] ?? ''} %`,
          },
        },
        marks: [
          areaX(points, { y: 'z', x1: 'low', x2: 'high', fill: BAND }),
          line(
            [-reach, reach].map((z) => [centre + spread * z, z] as const),
            { stroke: INK, strokeWidth: 1.5 },
          ),
          dot(points, { x: 'pages', y: 'z', r: 4, fill: ACCENT, stroke: ACCENT }),
          text(['share of cartridges below'], {
            frameAnchor: 'top-left',
            dx: 8,
            dy: 4,
            textAnchor: 'start',
            fill: INK,
          }),
        ],
      })),
    }),
  ];
}
