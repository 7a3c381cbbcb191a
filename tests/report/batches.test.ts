import { expect, test } from 'vitest';
import { run } from '../run.ts';
import { htmlOf } from './run-report.ts';

/* Batches with conditions of their own and marks, in the report and in the seal; the trial is invented. */

const TRIAL = `
trial: Saddlers Court lot 2, machine Dun
machine: {rotating_parts: {drum: 30 mm}}
meter: {start: 500, end: 4500}
coverage: 5 %
batches:
  - {end: 1500, coverage: 20 %, cartridge_mass: {black: 640.5 g}, container_mass: 511 g}
  - {end: 2500, other: true, container_mass: 530 g}
waste_container: {tare: 500 g, final: 548 g}
cartridges: [{slot: black, start_mass: 700.0 g, end_mass: 600.0 g}]
prints: {marks: [{distance: 94.3 mm, slot: black, note: light spot}, {distance: 55 mm}]}
events: [{at: 2000, kind: jam}]
limits: {waste_per_thousand: {max: 25 g}}
`;

const textOf = (trial: string): string =>
  htmlOf(trial, {})
    .replace(/<[^>]*>/g, '|')
    .replace(/\|+/g, '|');

test('the report says what batches were printed under, and what the cartridge weighed then', () => {
  const text = textOf(TRIAL);
  expect(text).toContain('|printed otherwise|');
  expect(text).toMatch(/\|black 640\.5 g\|coverage 20.%\|/);
  expect(text).toContain('|not of the trial|');
  expect(text).toContain('of these 1 in pages that are not of the trial');
  expect(textOf(TRIAL.replace(/^batches:\n(?: {2}.*\n)+/m, 'batches: [{end: 1500}]\n'))).not.toContain(
    'printed otherwise',
  );
});

test('the report has every mark with its distance, its slot, and the parts it can come from', () => {
  const text = textOf(TRIAL);
  expect(text).toMatch(/\|94\.3.mm\|black\|light spot\|once a turn of the drum\|/);
  expect(text).toMatch(/\|55.mm\|[^]*?no rotating part of the machine has that circumference/);
  expect(textOf(TRIAL.replace(/^machine.*$/m, ''))).toContain('not known: no rotating part is given');
});

test('the report on a run under way says so on its first screen', () => {
  const said = 'The run is under way: its end is not read yet';
  expect(textOf(TRIAL.replace('end: 4500', 'end: ').replace('final: 548 g', 'final: '))).toContain(said);
  expect(textOf(TRIAL)).not.toContain(said);
});

test('a sealed trial comes out the same again; a coverage of a batch that changed is named', () => {
  const { written } = run(['seal', 't.yaml'], { 't.yaml': TRIAL });
  const again = run(['recheck', 't.yaml'], { 't.yaml': TRIAL, ...written });
  expect(again.code).toBe(0);
  const changed = run(['recheck', 't.yaml'], { 't.yaml': TRIAL.replace('20 %', '12 %'), ...written });
  expect(changed.code).toBe(1);
  expect(changed.out).toContain('batches[1].coverage');
});

test('the curve of the waste leaves out what other pages left, as the figure does', () => {
  // 48 g in the container, of them 530 − 511 = 19 g of the 1000 other pages: 29 g of 3000 pages; by hand.
  const html = htmlOf(TRIAL, {});
  expect(html).toContain('Weighed 3 times: 0 g after 0 pages, 11 g after 1000 pages, 29 g after 3000 pages.');
  expect(html).toMatch(/limit of 25 g per thousand pages would allow 75 g after 3000 pages/);
  expect(html).toContain('Pages that are not of the trial, and their waste, are taken out.');
});

test('where the waste of other pages was not weighed apart, all is drawn and the limit is not', () => {
  const together = 'Pages that are not of the trial, and their waste, are in it';
  const html = htmlOf(TRIAL.replace('other: true, container_mass: 530 g', 'other: true'), {});
  expect(html).toMatch(/11 g after 1000 pages, 48 g after 4000 pages\./);
  expect(html).toContain(together);
  expect(html).not.toContain('would allow');
  const counted = htmlOf(
    TRIAL.replace('end: 4500}', 'end: 4500, other_pages: 1000}').replace('other: true, ', ''),
    {},
  );
  expect(counted).toContain(together);
  expect(counted).not.toContain('would allow');
  const none = htmlOf(TRIAL.replace('other: true, ', ''), {});
  expect(none).not.toContain(together);
  expect(none).toMatch(/would allow 100 g after 4000 pages/);
});

test('the yield on the first screen says what was printed, and how much of it for another job', () => {
  expect(textOf(TRIAL)).toMatch(
    /counted at 5.% coverage; printed 4000.pages, 1000 of them not of the trial\|/,
  );
  const alike = TRIAL.replace('coverage: 20 %, ', '');
  expect(textOf(alike)).toMatch(/printed 4000.pages, 1000 of them not of the trial\|/);
  expect(textOf(TRIAL.replace('other: true, ', ''))).toMatch(/coverage; printed 4000.pages\|/);
  expect(textOf(alike.replace('other: true, ', ''))).not.toMatch(/printed 4000.pages/);
});

test('batches printed otherwise are named by their numbers, one alone with its meter', () => {
  const said = (trial: string): string => run(['verdict', 't.yaml'], { 't.yaml': trial }).out;
  expect(said(TRIAL)).toContain('  batches     batch 1, meter 500 to 1500: coverage 20 %\n');
  expect(said(TRIAL)).toContain('batch 2, meter 1500 to 2500: not of the trial\n');
  const more = TRIAL.replace(
    'batches:\n',
    'batches:\n  - {end: 700, coverage: 20 %}\n  - {end: 800}\n  - {end: 900, coverage: 20 %}\n',
  );
  expect(said(more)).toContain('batches 1, 3 and 4: coverage 20 %\n');
  expect(said(more)).toContain('batch 5, meter 1500 to 2500: not of the trial\n');
  const far = TRIAL.replace('start: 500, end: 4500', 'start: 20500, end: 24500')
    .replace('end: 1500', 'end: 21500')
    .replace('end: 2500', 'end: 22500')
    .replace('at: 2000', 'at: 22000');
  expect(textOf(far)).toMatch(/batch.2, meter 21.500 to 22.500: not of the trial/);
});

test('the report says which pages it counts where some are not of the trial', () => {
  const own = 'Pages are those of the trial: 1000\u00a0pages that the meter counted are not of it';
  const all = 'Checkpoints; pages are all that the meter counted, those not of the trial too';
  expect(textOf(TRIAL)).toContain(own);
  expect(textOf(TRIAL)).toContain(all);
  const none = textOf(TRIAL.replace('other: true, ', ''));
  expect(none).not.toContain('Pages are those of the trial');
  expect(none).toContain('|Checkpoints|');
});

test('raw masses have the digits they were written with', () => {
  const text = textOf(TRIAL.replace('530 g', '530.0 g').replace('tare: 500 g', 'tare: 500.00 g'));
  expect(text).toMatch(/\|waste container tare\|500\.00(?:.±.[\d.]+)?\|g\|/);
  expect(text).toMatch(/\|batches 2 container mass\|530\.0(?:.±.[\d.]+)?\|g\|/);
  expect(text).toMatch(/\|cartridges 1 start mass\|700\.0(?:.±.[\d.]+)?\|g\|/);
  expect(text).toContain('|530.0 g|');
});
