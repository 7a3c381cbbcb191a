import { countInTrial, countOf } from '../figures/event-rate.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import type { Assessed } from '../judge/assess.ts';
import { EVENT_KINDS } from '../trial/schema/run.ts';
import type { Run, RunEvent } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { ifDerived } from '../uncertainty/not-derived.ts';
import { padEnd, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { tidy } from './numbers.ts';

/** Events and inspection of a verdict in lines for people. */

/** Share of a two-sided 95 % interval on each side. */
const ONE_SIDE = 0.025;

/** What happened, how often for a thousand pages, and how far apart. */
export function eventLines({ derived, trial }: Assessed): string[] {
  const { events } = trial.run;
  if (events === null) return [];
  if (events.length === 0) return ['  none recorded'];
  return [
    ...wrap(eventSummary(events), '  ', '    '),
    ...otherEvents(trial.run).flatMap((said) => wrap(said, '  ', '    ')),
    ...derived.flatMap(rateLine),
    ...spacing(trial.run, events),
  ];
}

/** Events by kind, and by slot where they name one. */
export function eventSummary(events: readonly RunEvent[]): string {
  return EVENT_KINDS.flatMap((kind) => {
    const own = events.filter((event) => event.kind === kind);
    if (own.length === 0) return [];
    const slots = [...new Set(own.flatMap(({ slot }) => slot ?? []))].map(
      (slot) => `${harmless(slot)} ${own.filter((event) => event.slot === slot).length}`,
    );
    return [`${kind.replace('_', ' ')} ${own.length}${slots.length === 0 ? '' : ` (${slots.join(', ')})`}`];
  }).join(', ');
}

/** How many of the events are not of the trial, where there are any. */
export function otherEvents(run: Run): string[] {
  const others = EVENT_KINDS.reduce(
    (sum, kind) => sum + (ifDerived(() => countOf(run, kind) - countInTrial(run, kind)) ?? 0),
    0,
  );
  return others === 0 ? [] : [`of these ${others} in pages that are not of the trial, which no rate counts`];
}

const two = (value: Decimal): string => tidy(value.toSignificantDigits(2));

/** A rate of events with its exact interval, in words; nothing of any other figure. */
export function eventRates({ figure, result, bounds }: Derived): string[] {
  if (!bounds || !isDerived(result)) return [];
  const { lower, upper } = bounds(ONE_SIDE);
  return [
    `${figure.title}: ${two(result.value)}, between ${two(lower)} and ${two(upper)} (exact Poisson interval, 95 %)`,
  ];
}

const rateLine = (derived: Derived): string[] =>
  eventRates(derived).flatMap((said) => wrap(said, '  ', '    '));

/** Pages from one stop to the next, where there are several. */
function spacing({ meter }: Run, events: readonly RunEvent[]): string[] {
  const stops = events.flatMap(({ kind, at }) => (kind === 'stop' && at !== null ? [at] : []));
  if (stops.length < 2) return [];
  const gaps = stops.slice(1).map((at, index) => at.minus(stops[index] ?? at).div(meter.clicksPerPage));
  return wrap(`pages between stops: ${gaps.map(tidy).join(', ')}`, '  ', '    ');
}

/** What was found when machine and delivery were looked at. */
export function inspectionLines({ inspection }: Run): string[] {
  if (inspection === null) return [];
  const looked = inspection.filter(({ severity }) => severity !== null);
  const found = looked.filter(({ severity }) => severity !== 'none');
  if (looked.length < inspection.length && looked.length === 0) return [];
  if (found.length === 0)
    return [looked.length < inspection.length ? '  nothing found so far' : '  nothing found'];
  return found.flatMap(({ stage, part, slot, serial, severity, note }) => {
    const what = [part, slot, serial && `serial ${serial}`].filter((one) => one !== null).join(', ');
    const said = note === null ? what : `${what}: ${note}`;
    return wrap(harmless(said), `  ${padEnd(severity ?? '', 9)}${padEnd(stage ?? '', 10)}`);
  });
}
