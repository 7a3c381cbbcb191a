import { unlistedCartridge } from '../figures/changes.ts';
import type { Assessed } from '../judge/assess.ts';
import type { Batch, Cartridge, Conditions, Run, Trial } from '../trial/trial.ts';
import type { Decimal } from '../uncertainty/decimal.ts';
import { list } from './words/said.ts';

/** What was tried, as pairs of a word and what there is to say to it; only what the file tells. */
export function trialLines({ trial, agreed, read: found }: Assessed): [word: string, said: string][] {
  const { data, run } = trial;
  const head = typeof data.trial === 'string' ? {} : data.trial;
  const lines: [string, string][] = [];
  const tell = (word: string, parts: readonly (string | null | undefined | false)[]): void => {
    const said = parts.filter(Boolean).join(', ');
    if (said !== '') lines.push([word, said]);
  };
  const { lot, machine, printing } = data;
  tell('trial', [head.title != null && head.id]);
  tell('lot', [
    lot?.id,
    lot?.supplier && `from ${lot.supplier}`,
    lot?.sampled && `${lot.sampled.text}${lot.size ? ` of ${lot.size.text}` : ''} sampled`,
  ]);
  tell('machine', [
    machine?.label,
    machine?.model && `model ${machine.model}`,
    machine?.serial && `serial ${machine.serial}`,
    machine?.firmware && `firmware ${machine.firmware}`,
  ]);
  const days = [head.started?.text, head.finished?.text].filter(Boolean).join(' to ');
  tell('when, who', [days, head.operator]);
  tell('printed', [
    printing?.document,
    printing?.mode?.replace('_', '-'),
    printing?.pages_per_job && `${printing.pages_per_job.text} pages a job`,
  ]);
  tell('meter', [meterLine(trial)]);
  tell('paper', [paperLine(run.paper), duplexLine(run, run)]);
  tell('coverage', [
    `${coverageLine(run)}; yields are referred to ${agreed.referenceCoverage.toFixed()}\u00a0%`,
  ]);
  for (const [index, said] of batchLines(trial).entries()) lines.push([index === 0 ? 'batches' : '', said]);
  for (const [index, cartridge] of run.cartridges.entries()) {
    if (!cartridge.listed && unlistedCartridge(run, cartridge.slot) !== null) break;
    lines.push([index === 0 ? 'cartridges' : '', cartridgeLine(cartridge, trial)]);
  }
  const read = run.ambient.filter(({ temperature, humidity }) => temperature?.measured ?? humidity?.measured);
  // Of a long table not every row is kept.
  const rows = found.flatMap(({ problem }) =>
    problem.code === 'table-read' && problem.path[0] === 'ambient' ? problem.rows : [],
  );
  if (read.length > 0) tell('ambient', [`read ${times(rows[0] ?? read.length)}`]);
  return lines;
}

const times = (n: number): string => (n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`);

function meterLine({ data }: Trial): string {
  const { start, end, clicks_per_page: clicks } = data.meter ?? {};
  if (!start) return end ? `not read yet at the start, ${end.text} at the end` : 'not read yet';
  const range = `${start.text} to ${end?.text ?? 'not read yet'}`;
  return clicks && !clicks.value.eq(1) ? `${range}, ${clicks.text} counted for a page` : range;
}

const paperLine = ({ name, grammage }: Conditions['paper']): string => `${name}, ${grammage.toFixed()} g/m²`;

const duplexLine = ({ duplexShare }: Conditions, { duplexBasis }: Run): string =>
  duplexShare.value.isZero()
    ? 'one-sided'
    : `${duplexShare.value.times(100).toFixed()} % of the ${duplexBasis} two-sided`;

/** What a batch was printed under where that is not as the run; empty where it is. */
export const ownConditions = (batch: Batch, run: Run): string =>
  [
    batch.other && 'not of the trial',
    batch.coverages !== run.coverages && `coverage ${coverageLine(batch)}`,
    batch.paper !== run.paper && paperLine(batch.paper),
    batch.duplexShare !== run.duplexShare && duplexLine(batch, run),
  ]
    .filter(Boolean)
    .join(', ');

/** More batches than this of one kind are counted. */
const MOST_NAMED = 6;

/** The batches that were printed otherwise than the run, those of one kind together. */
function batchLines(trial: Trial): string[] {
  const { run } = trial;
  const kinds = new Map<string, number[]>();
  for (const [index, batch] of run.batches.entries()) {
    const said = ownConditions(batch, run);
    const known = kinds.get(said) ?? [];
    if (said !== '') kinds.set(said, known);
    known.push(index + 1);
  }
  return [...kinds].map(([said, all]) => {
    const [only = 0, ...others] = all;
    if (others.length === 0) return `batch\u00a0${only}${metersOf(only, trial)}: ${said}`;
    return all.length > MOST_NAMED
      ? `${all.length} batches: ${said}`
      : `batches\u00a0${list(all.map(String), 'and')}: ${said}`;
  });
}

/** From where to where the meter went in a batch, counted from 1, as it was written down. */
function metersOf(place: number, { data, run }: Trial): string {
  const endOf = (index: number): string | undefined =>
    data.batches?.[run.batches[index]?.path.at(-1) as number]?.end?.text;
  const [from, to] = [place === 1 ? data.meter?.start?.text : endOf(place - 2), endOf(place - 1)];
  return from === undefined || to === undefined ? '' : `, meter ${from} to ${to}`;
}

function coverageLine(run: Pick<Conditions, 'coverages'>): string {
  const said = [...run.coverages].map(([slot, { measured }]) => ({
    slot,
    value: measured === null ? 'not given' : `${shortNumber(measured.value)}\u00a0%${tolerance(measured.u)}`,
  }));
  const values = new Set(said.map(({ value }) => value));
  const [only] = values;
  const slots = said.flatMap(({ slot }) => slot ?? []);
  if (only === undefined) return 'not given';
  if (values.size === 1 && slots.length > 1) return `${only} each in ${slots.join(', ')}`;
  return said.map(({ slot, value }) => (slot === null ? value : `${slot} ${value}`)).join(', ');
}

/** A rectangular tolerance a has u = a/√3. */
const tolerance = (u: Decimal): string =>
  u.isZero() ? '' : `\u00a0±\u00a0${u.times(Math.sqrt(3)).toSignificantDigits(3).toFixed()}\u00a0%`;

const shortNumber = (value: Decimal): string => value.toSignificantDigits(6).toFixed();

function cartridgeLine(
  { name, path, listed, exhausted, fresh, usedBefore }: Cartridge,
  trial: Trial,
): string {
  if (!listed) return `${name === null ? '' : `${name}: `}taken as one new cartridge, not exhausted`;
  const index = path.at(-1) as number;
  const run = path[0] === 'reference' ? trial.data.reference : trial.data;
  const data = run?.cartridges?.[index];
  const parts = [
    data?.lot && `lot ${data.lot}`,
    data?.serial && `serial ${data.serial}`,
    data?.installed_at && `fitted at ${data.installed_at.text}`,
    exhausted
      ? `exhausted at ${data?.exhausted_at?.text ?? ''}${data?.exhausted_by ? ` (${data.exhausted_by})` : ''}`
      : 'not exhausted',
    usedBefore?.pages.value.gt(0)
      ? `${usedBefore.pages.value.toFixed()} pages printed before`
      : !fresh && 'part-used when fitted',
    data?.failed_at &&
      `failed at ${data.failed_at.text}${data.failed_by ? ` (${data.failed_by.replace('_', ' ')})` : ''}`,
  ].filter(Boolean);
  return `${name === null ? '' : `${name}: `}${parts.join(', ')}`;
}
