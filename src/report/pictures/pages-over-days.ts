import { dot, lineY, ruleX, text } from '@observablehq/plot';
import { otherPagesIn } from '../../figures/pages.ts';
import type { Assessed } from '../../judge/assess.ts';
import type { Time } from '../../trial/time.ts';
import type { Picture } from '../content.ts';
import { ACCENT, forBoth, picture, QUIET, tick } from './draw.ts';
import { timeAxis } from './time-axis.ts';

interface At {
  readonly time: Time;
  readonly pages: number;
}

/** More points than this are a line without dots. */
const MOST_DOTS = 200;

/** Pages printed over the days, where batches say when they began and ended. */
export function pagesOverDays({ trial: { run } }: Assessed): Picture[] {
  const start = run.meter.start.measured?.value;
  if (!start) return [];
  const pagesAt = (reading: typeof run.meter.start): number | null =>
    reading.measured?.value.minus(start).div(run.meter.clicksPerPage).toNumber() ?? null;
  let before: number | null = 0;
  const points = run.batches.flatMap(({ started, finished, end }): At[] => {
    const [from, to] = [before, pagesAt(end)];
    before = to;
    return [
      ...(started && from !== null ? [{ time: started, pages: from }] : []),
      ...(finished && to !== null ? [{ time: finished, pages: to }] : []),
    ];
  });
  const [first, last] = [points[0], points.at(-1)];
  if (!first || !last || last.time.seconds <= first.time.seconds) return [];
  const ends = run.batches.flatMap(({ finished }) => finished ?? []);
  const x = ({ time }: At): Date => new Date(time.seconds * 1000);
  return [
    picture({
      title: 'Pages over the days of the run',
      alternative: `${(points.length > 40 ? [first, last] : points).map(({ time, pages }) => `${tick(pages)} pages at ${time.text}`).join(', ')}.`,
      key: `Dots: where a batch began or ended, by the meter.${ends.length > 0 ? ' Uprights: the end of a batch.' : ''}${otherPagesIn(run).isZero() ? '' : ' Pages that are not of the trial are in it.'}`,
      ...forBoth((slim) => ({
        options: {
          height: 210,
          marginLeft: 56,
          marginRight: 24,
          marginTop: 22,
          marginBottom: 44,
          x: timeAxis(first.time.seconds, last.time.seconds, first.time, slim),
          y: { domain: [0, last.pages * 1.08 || 1], label: null, ticks: 5, tickFormat: tick },
        },
        marks: [
          ruleX(
            (points.length > MOST_DOTS ? [] : ends).map(({ seconds }) => new Date(seconds * 1000)),
            { stroke: QUIET, strokeDasharray: '1 3' },
          ),
          lineY(points, { x, y: 'pages', stroke: ACCENT, strokeWidth: 1.5 }),
          dot(points.length > MOST_DOTS ? [] : points, { x, y: 'pages', r: 4, fill: ACCENT }),
          text(['pages of the run'], { frameAnchor: 'top-left', dx: -50, dy: -20, textAnchor: 'start' }),
        ],
      })),
    }),
  ];
}
