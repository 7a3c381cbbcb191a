import { dot, ruleX, ruleY, text } from '@observablehq/plot';
import type { Assessed } from '../../judge/assess.ts';
import { EVENT_KINDS } from '../../trial/schema/run.ts';
import type { Cartridge } from '../../trial/trial.ts';
import type { Picture } from '../content.ts';
import { asShown, counterOf } from '../counter.ts';
import { ACCENT, forBoth, INK, namedBelow, PAPER, picture, QUIET, rowsOf, tick, WIDTH } from './draw.ts';

interface Bar {
  readonly row: number;
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly end: 'exhausted' | 'failed' | 'not exhausted';
}

/** Cartridges that stand on a page with every kind of event below them. */
const MOST_BARS = 20;

const SYMBOL = { exhausted: 'square', failed: 'times', 'not exhausted': 'triangle' } as const;

const endOf = ({ exhausted, failed }: Cartridge): Bar['end'] =>
  failed ? 'failed' : exhausted ? 'exhausted' : 'not exhausted';

/** Cartridges and events over the meter: a lane for each cartridge and each kind of event. */
export function lanes({ trial: { run, data } }: Assessed): Picture[] {
  const start = run.meter.start.measured?.value.toNumber();
  const end = run.meter.end.measured?.value.toNumber();
  if (start === undefined || end === undefined || end <= start) return [];
  const placed = (run.events ?? []).flatMap(({ kind, at }) =>
    at === null ? [] : [{ kind, at: at.toNumber() }],
  );
  const kinds = EVENT_KINDS.filter((kind) => placed.some((event) => event.kind === kind));
  const listed = run.cartridges.filter(({ listed: own, from, to }) => own && from.measured && to.measured);
  const bars = listed.slice(0, MOST_BARS).map((cartridge, row): Bar => ({
    row,
    name: cartridge.name ?? 'cartridge',
    from: cartridge.from.measured?.value.toNumber() ?? start,
    to: cartridge.to.measured?.value.toNumber() ?? end,
    end: endOf(cartridge),
  }));
  if (bars.length + kinds.length === 0) return [];
  const names = [...bars.map(({ name }) => name), ...kinds.map((kind) => kind.replace('_', ' '))];
  const counter = counterOf(data.meter);
  const shown = (at: number): string => tick(asShown(at, counter));
  const rolled = counter !== null && end >= counter;
  // Events that fall on one spot of the picture are one dot of it.
  const step = (end - start) / WIDTH;
  const spots = new Map(
    placed.map(({ kind, at }) => [
      `${kind} ${Math.round(at / step)}`,
      { at, row: bars.length + kinds.indexOf(kind) },
    ]),
  );
  const events = [...spots.values()];
  const batches = run.batches.flatMap(({ end: at }) => at.measured?.value.toNumber() ?? []);
  return [
    picture({
      title: 'Cartridges and events over the run',
      alternative: [
        ...bars.map(
          ({ name, from, to, end: how }) => `${name}: meter ${shown(from)} to ${shown(to)}, ${how}.`,
        ),
        ...kinds.map((kind) => {
          const own = placed.filter((event) => event.kind === kind);
          return `${kind.replace('_', ' ')}: ${own.length === 1 ? 'once' : `${own.length} times`}, at meter ${own
            .slice(0, 20)
            .map(({ at }) => shown(at))
            .join(', ')}${own.length > 20 ? ' and on' : ''}.`;
        }),
      ].join(' '),
      key: [
        ...(bars.some((bar) => bar.end === 'exhausted') ? ['Filled square: exhausted.'] : []),
        ...(bars.some((bar) => bar.end === 'not exhausted') ? ['Open triangle: not exhausted.'] : []),
        ...(bars.some((bar) => bar.end === 'failed') ? ['Cross: failed.'] : []),
        ...(listed.length > bars.length
          ? [`${listed.length - bars.length} more cartridges are in the table.`]
          : []),
        ...(events.length > 0 ? ['Filled circle: an event.'] : []),
        ...(batches.length > 0 ? ['Dotted uprights: checkpoints.'] : []),
        ...(rolled ? ['Dashed upright: the counter began again at 0.'] : []),
      ].join(' '),
      ...forBoth((slim) => ({
        options: {
          height: 66 + 26 * (bars.length + kinds.length),
          marginTop: 10,
          marginBottom: 44,
          marginLeft: rowsOf(names, slim).space,
          marginRight: slim ? 106 : 110,
          x: {
            domain: [start, end],
            ...namedBelow(run.meter.clicksPerPage.eq(1) ? 'meter reading, pages' : 'meter reading, clicks'),
            ticks: slim ? [start, end] : 4,
            tickFormat: shown,
          },
          y: rowsOf(names, slim).axis,
        },
        marks: [
          ruleX(batches, { stroke: QUIET, strokeDasharray: '1 3' }),
          ruleX(rolled ? [counter] : [], { stroke: QUIET, strokeDasharray: '6 4' }),
          ruleY(
            kinds.map((_, index) => bars.length + index),
            { stroke: QUIET, strokeOpacity: 0.5 },
          ),
          ruleY(bars, {
            y: 'row',
            x1: 'from',
            x2: 'to',
            stroke: ACCENT,
            strokeWidth: 5,
            strokeOpacity: 0.45,
          }),
          dot(bars, {
            y: 'row',
            x: 'to',
            r: 5,
            symbol: (bar: Bar) => SYMBOL[bar.end],
            fill: (bar: Bar) => (bar.end === 'exhausted' ? ACCENT : PAPER),
            stroke: INK,
            strokeWidth: 1.5,
          }),
          text(bars, { y: 'row', x: end, dx: 12, textAnchor: 'start', text: 'end' }),
          dot(events, { y: 'row', x: 'at', r: 4.5, fill: INK }),
        ],
      })),
    }),
  ];
}
