import { otherPagesIn } from '../../figures/pages.ts';
import type { Assessed } from '../../judge/assess.ts';
import { ownConditions } from '../../output/trial-lines.ts';
import { eventRates, eventSummary, otherEvents } from '../../output/text-events.ts';
import type { Batch, Run, Trial } from '../../trial/trial.ts';
import { type Block, list, paragraph, type Section, table } from '../content.ts';
import { asWritten } from '../as-written.ts';
import { asShown, counterOf } from '../counter.ts';
import { pagesOverDays } from '../pictures/pages-over-days.ts';
import { wasteOverRun } from '../pictures/waste.ts';
import { typeset } from '../typeset.ts';

/** What happened during the run, shakes included, and how the run went. */
export const events = (result: Assessed): Section => ({
  title: 'The run and its events',
  blocks: [...eventBlocks(result), ...batchBlocks(result), ...pagesOverDays(result), ...wasteOverRun(result)],
});

/** More events or checkpoints than this are counted, not listed. */
const MOST_LISTED = 100;

function eventBlocks({ trial: { run, data }, derived }: Assessed): Block[] {
  const { events: happened } = run;
  if (happened === null) return [];
  if (happened.length === 0)
    return [paragraph('Nothing happened during the run: no jam, stop, error or shake.')];
  const counter = counterOf(data.meter);
  const rows = happened
    .slice(0, MOST_LISTED)
    .map(({ at, kind, slot, path }) => [
      at === null ? 'not said' : typeset(String(asShown(at.toNumber(), counter))),
      kind.replace('_', ' '),
      slot ?? '',
      data.events?.[path.at(-1) as number]?.note ?? '',
    ]);
  return [
    ...list([eventSummary(happened), ...otherEvents(run), ...derived.flatMap(eventRates).map(typeset)]),
    ...table(
      'Events',
      ['meter', 'event', 'slot', 'note'].map((text) => ({ text })),
      rows,
    ),
    ...others(happened.length),
  ];
}

const others = (count: number): Block[] =>
  count > MOST_LISTED ? [paragraph(`And ${count - MOST_LISTED} more, in the trial file.`)] : [];

const pagesAt = ({ meter }: Run, at: Run['meter']['end']): string =>
  at.measured && meter.start.measured
    ? typeset(
        at.measured.value
          .minus(meter.start.measured.value)
          .div(meter.clicksPerPage)
          .toDecimalPlaces(1)
          .toFixed(),
      )
    : '';

/** The cartridges as they were weighed at the end of a batch. */
const massesOf = ({ cartridgeMasses }: Batch, trial: Trial): string =>
  [...cartridgeMasses]
    .flatMap(([slot, mass]) =>
      mass.measured ? [`${slot === null ? '' : `${slot} `}${asWritten(trial, mass)} g`] : [],
    )
    .join(', ');

function batchBlocks({ trial }: Assessed): Block[] {
  const { run, data } = trial;
  const listed = run.batches.slice(0, MOST_LISTED);
  const own = listed.some((batch) => ownConditions(batch, run) !== '');
  const weighed = listed.some(({ cartridgeMasses }) => cartridgeMasses.size > 0);
  const rows = listed.map((one) => {
    const { end, started, finished, path } = one;
    const batch = data.batches?.[path.at(-1) as number];
    return [
      typeset(batch?.end?.text ?? 'not read yet'),
      pagesAt(run, end),
      started?.text.replace('T', ' ') ?? '',
      finished?.text.replace('T', ' ') ?? '',
      one.containerMass.measured ? `${asWritten(trial, one.containerMass)} g` : '',
      ...(weighed ? [massesOf(one, trial)] : []),
      ...(own ? [ownConditions(one, run)] : []),
      batch?.note ?? '',
    ];
  });
  const checkpoints = table(
    `Checkpoints${otherPagesIn(run).isZero() ? '' : '; pages are all that the meter counted, those not of the trial too'}`,
    [
      { text: 'meter' },
      { text: 'pages', numeric: true },
      { text: 'began', whole: true },
      { text: 'ended', whole: true },
      { text: 'container', numeric: true },
      ...(weighed ? [{ text: 'cartridges' }] : []),
      ...(own ? [{ text: 'printed otherwise' }] : []),
      { text: 'note' },
    ],
    rows,
  );
  return [...checkpoints, ...others(run.batches.length)];
}
