import { dot, ruleX, ruleY, tickX } from '@observablehq/plot';
import type { Assessed } from '../../judge/assess.ts';
import type { WithValue } from '../../output/text-figures.ts';
import { withValue } from '../../output/text-figures.ts';
import type { Picture } from '../content.ts';
import { valueText } from '../values.ts';
import { inPieces } from './pieces.ts';
import { ACCENT, forBoth, INK, namedBelow, PAPER, picture, QUIET, rowsOf, tick } from './draw.ts';

const KINDS = [
  { figure: 'colour_difference', words: 'last against first', dy: -6 },
  { figure: 'colour_to_reference', words: 'last against reference', dy: 6 },
] as const;

/** Colour differences of every control patch: over the run, and to the reference. */
export function colourPictures({ derived, judged }: Assessed): Picture[] {
  const values = derived
    .filter(({ figure }) => KINDS.some((kind) => kind.figure === figure.name))
    .flatMap(withValue);
  const patches = [...new Set(values.flatMap(({ of }) => of ?? []))];
  return inPieces(patches).map((some) => pictureOf(some, values, judged));
}

function pictureOf(
  patches: readonly string[],
  all: readonly WithValue[],
  judged: Assessed['judged'],
): Picture {
  const values = all.filter(({ of }) => patches.includes(of ?? ''));
  const rows = (slim: boolean) => rowsOf(patches, slim);
  const numbers = values.map(({ result }) => result.value.plus(result.u.times(2)).toNumber());
  const limits = judged.flatMap(({ limit, derived: { figure, of } }) => {
    const kind = KINDS.find((one) => one.figure === figure.name);
    const edge = limit.max?.toNumber();
    return kind === undefined || edge === undefined || !patches.includes(of ?? '')
      ? []
      : [{ row: patches.indexOf(of ?? ''), edge, dy: kind.dy, of, figure: figure.title }];
  });
  const marksOf = ({ figure, dy }: (typeof KINDS)[number]) => {
    const own = values.filter((one) => one.figure.name === figure);
    const change = figure === 'colour_difference';
    const place = { y: (one: WithValue) => patches.indexOf(one.of ?? ''), dy };
    const [value, U] = [
      (one: WithValue) => one.result.value.toNumber(),
      (one: WithValue) => one.result.u.times(2).toNumber(),
    ];
    return [
      ruleY(own, {
        ...place,
        x1: 0,
        x2: value,
        stroke: change ? ACCENT : INK,
        ...(change ? {} : { strokeDasharray: '3 2' }),
      }),
      ruleY(
        own.filter((one) => U(one) > 0),
        {
          ...place,
          x1: (one: WithValue) => value(one) - U(one),
          x2: (one: WithValue) => value(one) + U(one),
          stroke: INK,
          strokeWidth: 2,
        },
      ),
      dot(own, {
        ...place,
        x: value,
        r: 5,
        symbol: change ? 'circle' : 'square',
        fill: change ? ACCENT : PAPER,
        stroke: change ? ACCENT : INK,
        strokeWidth: 1.5,
      }),
    ];
  };
  return picture({
    title: 'Colour differences of the patches, ΔE00',
    alternative: patches
      .map((patch) => {
        const said = KINDS.flatMap(({ figure, words }) => {
          const found = values.find((one) => one.figure.name === figure && one.of === patch);
          return found ? [`${words} ${valueText(found)}`] : [];
        });
        return `${patch}: ${said.join(', ')}.`;
      })
      .concat(limits.map(({ of, edge, figure }) => `Limit of ${figure}, ${of ?? ''}: at most ${tick(edge)}.`))
      .join(' '),
    key: `Filled circle, full line: last against first; open square, dashed line: last against reference.${limits.length > 0 ? ' Upright: the limit.' : ''}`,
    ...forBoth((slim) => ({
      options: {
        height: 58 + 36 * patches.length,
        marginTop: 8,
        marginBottom: 44,
        marginLeft: rows(slim).space,
        marginRight: 24,
        x: {
          domain: [0, Math.max(...numbers, ...limits.map(({ edge }) => edge), 1) * 1.08],
          ...namedBelow('colour difference, ΔE00'),
          ticks: slim ? 4 : 6,
          tickFormat: tick,
        },
        y: rows(slim).axis,
      },
      marks: [
        ruleX([0], { stroke: QUIET }),
        ...KINDS.flatMap(marksOf),
        ...KINDS.map(({ dy }) =>
          tickX(
            limits.filter((limit) => limit.dy === dy),
            { y: 'row', x: 'edge', dy, insetTop: 9, insetBottom: 9, stroke: INK, strokeWidth: 2.5 },
          ),
        ),
      ],
    })),
  });
}
