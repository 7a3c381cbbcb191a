import { areaY, dot, lineY, ruleX, ruleY } from '@observablehq/plot';
import { bandOf } from '../../forecast/band.ts';
import type { Fit } from '../../forecast/fit.ts';
import type { TriedPoint } from '../../forecast/tried.ts';
import { digits, percentWords } from '../../output/forecast-words.ts';
import type { Picture } from '../content.ts';
import { ACCENT, around, BAND, forBoth, INK, namedBelow, picture, QUIET, tick } from './draw.ts';

interface Place {
  readonly coverage: number;
  readonly mass: number;
  readonly lower: number;
  readonly upper: number;
}

/** More points than this are told in the table alone. */
const MOST_TOLD = 40;

/** Toner, or waste, a page against coverage: the points, the line through them, and where a further one is expected. */
export function fittedLine(fit: Fit, what: string, of: 'cartridge' | 'run'): Picture[] {
  const points = fit.levels.flatMap((level) => level.points);
  const places = bandOf(fit).map(({ coverage, estimate: { value, interval } }): Place => ({
    coverage,
    mass: value,
    lower: interval?.lower ?? value,
    upper: interval?.upper ?? value,
  }));
  const [first, last] = [places[0], places.at(-1)];
  if (first === undefined || last === undefined) return [];
  const banded = fit.freedom > 0;
  const masses = [...points.map(({ mass }) => mass), ...places.flatMap(({ lower, upper }) => [lower, upper])];
  const [, top] = around([0, ...masses]);
  const at = ({ coverage, mass, lower, upper }: Place): string =>
    `At ${percentWords(coverage)}: ${digits(mass, 3)} mg${banded ? `, a further ${of} between ${digits(lower, 3)} and ${digits(upper, 3)} mg` : ''}.`;
  const told = points.length > MOST_TOLD ? [] : points;
  return [
    picture({
      title: `${what}: mg a page against coverage`,
      alternative: [
        `${points.length} ${of}s.`,
        at(first),
        at(last),
        ...told.map(({ coverage, mass }) => `Measured at ${percentWords(coverage)}: ${digits(mass, 4)} mg.`),
      ].join(' '),
      key: `Dots: ${of}s tried, with ± U of their readings. Line: what was fitted${fit.floor === null ? '' : ', with its floor'}; it ends where the coverages tried end.${banded ? ` Band: where a further ${of} is expected in 95 of 100 cases.` : ''}`,
      ...forBoth((slim) => ({
        options: {
          height: 300,
          marginLeft: 56,
          marginRight: 24,
          marginTop: 22,
          marginBottom: 44,
          x: {
            domain: around([0, ...points.map(({ coverage }) => coverage)], 0.04).map((edge) =>
              Math.max(0, edge),
            ),
            ...namedBelow('coverage, % of the page'),
            ticks: slim ? 4 : 6,
            tickFormat: tick,
          },
          y: { domain: [0, top], label: null, ticks: 5, tickFormat: tick },
        },
        marks: [
          ...(banded ? [areaY(places, { x: 'coverage', y1: 'lower', y2: 'upper', fill: BAND })] : []),
          ruleY([0], { stroke: QUIET }),
          lineY(places, { x: 'coverage', y: 'mass', stroke: INK, strokeWidth: 1.5 }),
          ruleX(points, {
            x: 'coverage',
            y1: ({ mass, massU }: TriedPoint) => mass - 2 * massU,
            y2: ({ mass, massU }: TriedPoint) => mass + 2 * massU,
            stroke: ACCENT,
          }),
          dot(points, { x: 'coverage', y: 'mass', r: 4, fill: ACCENT }),
        ],
      })),
    }),
  ];
}
