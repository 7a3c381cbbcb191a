import { dot, lineY, ruleX, ruleY, text } from '@observablehq/plot';
import { wasteOnTheWay } from '../../figures/waste-mass.ts';
import type { Assessed } from '../../judge/assess.ts';
import type { Picture } from '../content.ts';
import { ACCENT, forBoth, INK, namedBelow, picture, QUIET, tick } from './draw.ts';

interface Weighed {
  readonly pages: number;
  readonly waste: number;
  readonly U: number;
}

/** More weighings than this are a line without their masses, and then without dots. */
const [MOST_LABELS, MOST_LABELS_SLIM, MOST_DOTS] = [12, 5, 200];

const TAKEN_OUT = ' Pages that are not of the trial, and their waste, are taken out.';
const ALL_IN =
  ' Pages that are not of the trial, and their waste, are in it: it was not weighed apart. So the limit is not drawn.';

/**
 * Waste over the pages of the trial, from every weighing on the way; one container only. Where the waste of other pages
 * cannot be told apart, all of it over all pages, and no limit: that is for the pages of the trial.
 */
export function wasteOverRun({ trial: { run }, agreed }: Assessed): Picture[] {
  const { apart, soFar } = wasteOnTheWay(run);
  const points = soFar.map(({ clicks, waste }): Weighed => ({
    pages: clicks.value.div(run.meter.clicksPerPage).toNumber(),
    waste: waste.value.toNumber(),
    U: waste.u.times(2).toNumber(),
  }));
  const last = points.at(-1);
  if (points.length < 2 || !last || last.pages === 0) return [];
  const limit = apart
    ? agreed.limits.find(({ figure, max }) => figure.name === 'waste_per_thousand' && max !== null)?.max
    : null;
  const without = run.batches.some(({ other }) => other);
  const allowed = limit == null ? null : (limit.toNumber() * last.pages) / 1000;
  const top = Math.max(last.waste + last.U, allowed ?? 0, 1) * 1.1;
  return [
    picture({
      title: `Waste in the container over the ${apart && without ? 'pages of the trial' : 'run'}, g`,
      alternative: `Weighed ${points.length} times: ${(points.length > 40 ? points.slice(-1) : points).map(({ pages, waste }) => `${tick(waste)} g after ${tick(pages)} pages`).join(', ')}.${limit == null ? '' : ` The limit of ${limit.toFixed()} g per thousand pages would allow ${tick(Number((allowed ?? 0).toFixed(1)))} g after ${tick(last.pages)} pages.`}`,
      key: `Dots: weighings less the empty container${points.some(({ U }) => U > 0) ? ', with ± U' : ''}.${limit == null ? '' : ` Dashed: what the limit of ${limit.toFixed()} g per thousand pages allows.`}${apart ? (without ? TAKEN_OUT : '') : ALL_IN}`,
      ...forBoth((slim) => ({
        options: {
          height: 230,
          marginLeft: 56,
          marginRight: 24,
          marginTop: 22,
          marginBottom: 44,
          x: {
            domain: [0, last.pages * 1.03],
            ...namedBelow(apart ? 'pages of the trial' : 'pages of the run'),
            ticks: slim ? 4 : 6,
            tickFormat: tick,
          },
          y: { domain: [0, top], label: null, ticks: 5, tickFormat: tick },
        },
        marks: [
          ruleY([0], { stroke: QUIET }),
          lineY(
            allowed === null
              ? []
              : [
                  { pages: 0, waste: 0 },
                  { pages: last.pages, waste: allowed },
                ],
            { x: 'pages', y: 'waste', stroke: INK, strokeDasharray: '6 4', strokeWidth: 1.5 },
          ),
          lineY(points, { x: 'pages', y: 'waste', stroke: ACCENT, strokeWidth: 1.5 }),
          ruleX(
            points.filter(({ U }) => U > 0 && points.length <= MOST_DOTS),
            {
              x: 'pages',
              y1: (p: Weighed) => p.waste - p.U,
              y2: (p: Weighed) => p.waste + p.U,
              stroke: ACCENT,
            },
          ),
          dot(points.length > MOST_DOTS ? [] : points, { x: 'pages', y: 'waste', r: 4, fill: ACCENT }),
          text(points.length > (slim ? MOST_LABELS_SLIM : MOST_LABELS) ? points.slice(-1) : points.slice(1), {
            x: 'pages',
            y: 'waste',
            dy: 14,
            dx: -2,
            textAnchor: 'middle',
            text: (p: Weighed) => `${tick(p.waste)} g`,
          }),
          text(['waste, g'], { frameAnchor: 'top-left', dx: -50, dy: -20, textAnchor: 'start' }),
        ],
      })),
    }),
  ];
}
