import { severityOf } from '../problems/codes.ts';
import type { Meaning } from '../note/meaning.ts';
import type { Ask, Next } from '../note/next.ts';
import type { Refusal } from '../note/refusal.ts';
import type { Finding } from '../text/finding.ts';
import type { Source } from '../text/source.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import type { Trial } from '../trial/trial.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import { CAUTIONS } from './cautions.ts';
import { padStart, wrap } from './columns.ts';
import { foundLines } from './findings.ts';
import { harmless } from './harmless.ts';
import { openReadings } from './open-readings.ts';
import type { Paint } from './paint.ts';
import { printOf } from './text-prints.ts';
import { reasonWords } from './reason-words.ts';
import { nameOf, rows } from './text-figures.ts';
import { limitText, marginText } from './text-limits.ts';
import { messageOf, wordsOf } from './words.ts';
import { list, withU } from './words/said.ts';

/** What a note says once it is written: the lines it stands in, what it means, and what is next unless that is asked for. */
export function noteText(
  source: Source,
  paths: readonly Path[],
  meaning: Meaning | null,
  paint: Paint,
  asking: boolean,
): string {
  const lines = [
    ...wrap(harmless(`Noted in ${source.file}:`)).map((line) => paint.strong(line)),
    ...writtenLines(source, paths),
    ...(meaning === null ? [] : meaningLines(source.file, meaning, paint, asking)),
  ];
  return `${lines.join('\n')}\n`;
}

/** The lines of a file that what was noted stands in. */
function writtenLines(source: Source, paths: readonly Path[]): string[] {
  const numbers = [...new Set(paths.map((path) => source.place({ path }).line))].toSorted((a, b) => a - b);
  return numbers.flatMap((number) =>
    wrap(harmless(source.line(number).trim()), `  ${padStart(String(number), 5)} | `),
  );
}

function meaningLines(file: string, meaning: Meaning, paint: Paint, asking: boolean): string[] {
  const { suspect, beyond, other, rate, weighed, events, cartridge, missed, split, fresh, progress, next } =
    meaning;
  const said = [
    ...(other
      ? ['This batch is not of the trial: its pages count in no figure of the pages of the trial.']
      : []),
    ...(rate === null ? [] : [rateWords(rate)]),
    ...weighed.map(
      ({ name, key }) =>
        `This is the mass of ${name} ${key === 'start_mass' ? 'before it was used' : 'at its end'}.`,
    ),
    ...(events === null ? [] : [`Events of the kind ${events.kind} by now: ${events.count}.`]),
    ...progress.map(({ problem }) => wordsOf(problem).say),
    ...missed.map(
      (one) =>
        `Now missed: ${nameOf(one.derived)}, ${limitText(one)}${marginText(one) === '' ? '' : ` (margin ${marginText(one)})`}.`,
    ),
    ...split.map(
      ({ derived, reason }) =>
        `Open now: ${nameOf(derived)}${reason === null ? '' : `; ${reasonWords(reason)}`}. Look at the prints together, and agree; or ask a third person.`,
    ),
  ].flatMap((one) => wrap(harmless(one), '  ', '    '));
  const figures = rows(cartridge);
  const warnings = fresh.filter(({ problem }) => severityOf(problem) === 'warning');
  const notes = fresh.filter((one) => !warnings.includes(one));
  return [
    ...(beyond === null
      ? []
      : [
          '',
          ...wrap(
            harmless(
              `Check the digits of the meter: by it ${beyond.pages} pages are printed, and ${beyond.target} are planned. If they are wrong, --correct --meter writes the right ones.`,
            ),
            '  ',
            '    ',
          ).map((line) => paint.strong(line)),
        ]),
    ...section('CHECK FIRST', suspect, paint),
    ...(said.length + figures.length === 0 ? [] : ['', ...said, ...figures]),
    ...section(warnings.length > 1 ? 'WARNINGS' : 'WARNING', warnings, paint),
    ...section(notes.length > 1 ? 'NOTES' : 'NOTE', notes, paint),
    '',
    ...(asking ? [] : wrap(harmless(nextWords(next, file, meaning.trial)))),
  ];
}

const section = (name: string, findings: readonly Finding[], paint: Paint): string[] =>
  findings.length === 0 ? [] : ['', paint.strong(name), ...foundLines(findings, paint)];

function rateWords({ now, before, stretches, left }: NonNullable<Meaning['rate']>): string {
  const here = `${withU(now)} g of waste per thousand pages since the last weighing`;
  if (before === null)
    return `${here}; ${left === 0 ? 'it is the first of the run' : 'no stretch before it was printed under the same conditions'}.`;
  const alike = left === 0 ? '' : ' under the same conditions';
  return `${here}; ${withU(before)} g ${stretches === 1 ? 'in the stretch before it' : `in the ${stretches} stretches before it`}${alike}.`;
}

/** What comes next in the order of the work, in a sentence. */
function nextWords({ when, batch, meter, asks }: Next, file: string, trial: Trial): string {
  const to = meter === null ? '' : meter.toFixed();
  switch (when) {
    case 'batch':
      return `Next: batch ${batch ?? ''}${to === '' ? '' : `, to meter ${to}`}.`;
    case 'end':
      return `Next: the end of the run${to === '' ? ', its pages are printed' : `, at meter ${to}`} (--end).`;
    case 'done':
      return `Every reading is there. "tallytare verdict ${file}" says what it comes to.`;
    default: {
      const { start } = trial.run.meter;
      const begun = when === 'before' && trial.run.batches.some(({ end }) => end.measured !== null);
      const paths = asks.map(({ path }) => path);
      const isStart = (path: Path): boolean => dotted(path) === dotted(start.path);
      const order = begun ? [...paths.filter(isStart), ...paths.filter((path) => !isStart(path))] : paths;
      const open = openReadings(order, trial).map(({ words }) => words);
      if (begun)
        return `The run has not begun: ${list(open, 'and')} ${open.length === 1 ? 'is' : 'are'} still to be read (--start).`;
      return `Next${when === 'before' ? ', before the run' : ''}: ${list(open, 'and')}.`;
    }
  }
}

/** What a reading is called where it is asked for. */
export function askWords({ path, unit, option }: Ask, { when, batch, meter }: Next, trial: Trial): string {
  const of = unit === null || unit === 'page' ? '' : `, in ${unit}`;
  const planned = meter === null ? '' : ` (planned: ${meter.toFixed()})`;
  switch (option) {
    case 'meter':
      if (when === 'batch') return `Meter at the end of batch ${batch ?? ''}${planned}`;
      return when === 'end' ? `Meter at the end of the run${planned}` : 'Meter before the run';
    case 'tare':
      return `Mass of the empty waste container, closed${of}`;
    case 'container':
      return `Mass of the waste container, closed${of}`;
    case 'final':
      return `Mass of the waste container after the run, closed${of}`;
    case 'temperature':
      return `Temperature of the air${of}`;
    case 'humidity':
      return `Relative humidity of the air${of}`;
    default:
      return path.at(-1) === 'severity'
        ? `${judgedAt(path, trial)}: ${list(SEVERITIES)}`
        : `${dotted(path)}${cartridgeOf(path, trial)}${of}`;
  }
}

/** What is judged there, by eye. */
function judgedAt(path: Path, { run, data }: Trial): string {
  const [section, list, entry] = path;
  if (section === 'prints' && list === 'by_eye') {
    const seen = run.prints.byEye?.[Number(entry)];
    if (seen === undefined) return dotted(path);
    const of = [seen.attribute, seen.slot, `${printOf(seen)} print`.trim()].filter(Boolean).join(', ');
    return `By eye, ${of} against the ${seen.against}${seen.by === null ? '' : ` (${seen.by} looks)`}`;
  }
  const found = section === 'inspection' ? data.inspection?.[Number(list)] : undefined;
  const named = [found?.part, found?.slot, found?.stage].filter((one) => one != null);
  return named.length === 0 ? dotted(path) : `Look at: ${named.join(', ')}`;
}

/** The cartridge that a reading is of. */
function cartridgeOf([section, index]: Path, { run }: Trial): string {
  const name = section === 'cartridges' ? run.cartridges[Number(index)]?.name : null;
  return name == null ? '' : ` (${name})`;
}

/** What would be asked, where nobody can be asked. */
export function wouldAsk(file: string, next: Next, trial: Trial): string {
  const options = next.asks.map((ask) =>
    ask.option === null ? `--reading ${dotted(ask.path)}=` : `--${ask.option}`,
  );
  const widest = Math.max(0, ...options.map((option) => option.length));
  const lines = [
    ...wrap(harmless(nextWords(next, file, trial))),
    ...careFor(next),
    ...next.asks.flatMap((ask, index) =>
      wrap(harmless(askWords(ask, next, trial)), `  ${(options[index] ?? '').padEnd(widest)}  `),
    ),
  ];
  return `${lines.join('\n')}\n`;
}

/** The cautions that go with work inside the machine. */
export const careFor = ({ when }: Next): string[] =>
  when === 'before' || when === 'after' ? CAUTIONS.slice(0, 2).flatMap((one) => wrap(one)) : [];

/** Why a note is not taken, and what to do; with the line that speaks against it. */
export function refusalLines(refusal: Refusal, source: Source, paint: Paint): string[] {
  const where = 'path' in refusal ? placeLines(refusal.path, source) : [];
  return [
    ...wrap(harmless(`tallytare: ${refusalWords(refusal)}`)).map((line) => paint.strong(line)),
    ...where,
  ];
}

function placeLines(path: Path, source: Source): string[] {
  const { line } = source.place({ path });
  return wrap(harmless(`${source.file}:${line}: ${source.line(line).trim()}`), '  ', '    ');
}

function refusalWords(refusal: Refusal): string {
  switch (refusal.code) {
    case 'misread':
      return `${refusal.option}: ${messageOf({ ...refusal.fault, path: [] })}`;
    case 'two-at-once':
      return `${list(refusal.options, 'and')} are two notes; give one after the other`;
    case 'no-part':
      return `${refusal.option} has no part in ${refusal.of}${refusal.instead === null ? '' : `; ${refusal.instead} is meant`}`;
    case 'lacks':
      return `${refusal.of} needs ${refusal.needs}`;
    case 'no-key':
      return `${refusal.option} takes no "${refusal.key}"; it takes ${list(refusal.known, 'and')}, as in serial=K20-0117,start_mass=812g`;
    case 'no-place':
      if (refusal.table !== null)
        return `${dotted(refusal.path)} are read from ${refusal.table}: write it into that table. Nothing was written.`;
      return `there is no place for it under ${dotted(refusal.path)} as that is written; note it by hand. Nothing was written.`;
    case 'no-cartridge':
      return refusal.slots.length === 0
        ? 'the trial lists no cartridges with a slot; list them first, as in "cartridges: [{slot: black, serial: K-1}]". Nothing was written.'
        : `no cartridge is in a slot "${refusal.slot}"; the slots are ${list(refusal.slots, 'and')}. Nothing was written.`;
    case 'already-read':
      return `${dotted(refusal.path)} is read already: ${refusal.is}. If that was wrong, --correct writes ${refusal.value} and keeps the old one as a comment.${
        dotted(refusal.path).includes('prints.by_eye')
          ? ' Another print is told apart by --slot, --stage or --batch, another person by --by.'
          : ''
      } Nothing was written.`;
    case 'nothing-new':
      return `${dotted(refusal.path)} stands there already. Nothing was written.`;
  }
}
