import { Option } from 'commander';
import type { Result } from '../judge/assess.ts';
import { judgeFile } from '../files/judge-file.ts';
import { LimitsFiles } from '../files/limits-files.ts';
import { noted } from '../note/noted.ts';
import { meaningOf } from '../note/meaning.ts';
import { type Ask, answered, type Next, nextOf } from '../note/next.ts';
import { isUsage } from '../note/refusal.ts';
import { type Given, isAnyGiven, whatToNote } from '../note/what-to-note.ts';
import { foundLines, findingLine } from '../output/findings.ts';
import { harmless } from '../output/harmless.ts';
import { askWords, careFor, noteText, refusalLines, wouldAsk } from '../output/note-text.ts';
import { severityOf } from '../problems/codes.ts';
import type { Finding } from '../text/finding.ts';
import { readSource } from '../text/source.ts';
import { dotted } from '../uncertainty/path.ts';
import { decode } from '../world/decode.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { Refused, refusable } from '../world/refused.ts';
import { paintFor } from '../world/terminal.ts';
import { collect, type Define } from './define.ts';
import { wrote } from '../world/wrote.ts';

/** What `note` may be given, as commander names it. */
export type NoteOptions = Given & { readonly time?: boolean };

/** `note FILE`: a reading taken at the machine, written where it belongs. */
export const note = (file: string, options: NoteOptions, io: Io): number =>
  refusable(() => {
    if (file === '-') {
      io.err('tallytare: note writes into the file of a trial; name it\n');
      return EXIT.usage;
    }
    const { time, ...given } = options;
    const clock = time === false ? null : io.now();
    if (isAnyGiven(given)) return write(file, given, clock, io);
    const alone = given.at !== undefined ? '--at' : given.correct ? '--correct' : null;
    if (alone !== null) {
      io.err(`tallytare: ${alone} says nothing by itself; give it beside what is to be noted\n`);
      return EXIT.usage;
    }
    return io.canAsk() ? askAll(file, clock, io) : sayNext(file, io);
  });

/** A trial as it stands in its file. */
interface Standing {
  readonly bytes: Uint8Array;
  readonly text: string;
  readonly result: Result;
}

/** @throws Refused where it cannot be read as YAML at all; once said */
function standing(file: string, io: Io): Standing {
  let bytes: Uint8Array;
  try {
    bytes = io.read(file);
  } catch (error) {
    io.err(`tallytare: ${harmless(file)}: ${systemWords(error)}\n`);
    throw new Refused(EXIT.unreadable);
  }
  const decoded = decode(bytes);
  const text = 'text' in decoded ? decoded.text : '';
  return { bytes, text, result: judged(file, bytes, io) };
}

/** The verdict on a file that holds these bytes. */
function judged(file: string, bytes: Uint8Array, io: Io): Result {
  const holding: Io = { ...io, read: (name) => (name === file ? bytes : io.read(name)) };
  return judgeFile(file, [], new LimitsFiles(holding), holding);
}

const errorsOf = (result: Result): readonly Finding[] =>
  result.verdict === 'invalid'
    ? result.findings.filter(({ problem }) => severityOf(problem) === 'error')
    : [];

const BYTE_ORDER_MARK = '\uFEFF';

/** Takes one note: written whole, or not at all. */
function write(file: string, given: Given, clock: string | null, io: Io, asking = false): number {
  const { bytes, text, result } = standing(file, io);
  const paint = paintFor(io);
  const source = readSource(file, text);
  if (source.data === null) return unreadable(errorsOf(result), io);
  const toNote = whatToNote(source.data, given, clock);
  if ('refusal' in toNote) {
    io.err(`${refusalLines(toNote.refusal, source, paint).join('\n')}\n`);
    return isUsage(toNote.refusal) ? EXIT.usage : EXIT.unreadable;
  }
  const { changes, paths } = toNote;
  const done = noted(text, changes);
  if ('unplaced' in done) {
    io.err(
      `${refusalLines({ code: 'no-place', table: null, path: done.unplaced }, source, paint).join('\n')}\n`,
    );
    return EXIT.unreadable;
  }
  const marked =
    new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes.subarray(0, 3)) === BYTE_ORDER_MARK;
  const written = `${marked ? BYTE_ORDER_MARK : ''}${done.text}`;
  const after = judged(file, new TextEncoder().encode(written), io);
  const known = new Set(errorsOf(result).map(nameOf));
  const errors = errorsOf(after).filter((one) => !known.has(nameOf(one)));
  if (errors.length > 0) {
    io.err(`${foundLines(errors, paint).join('\n')}\n\ntallytare: nothing was written\n`);
    return EXIT.unreadable;
  }
  if (!wrote(file, () => io.rewrite(file, bytes, written), io)) return EXIT.other;
  const now = readSource(file, done.text);
  if (after.verdict === 'invalid') {
    io.out(noteText(now, paths, null, paint, asking));
    unreadable(errorsOf(after), io);
  } else io.out(noteText(now, paths, meaningOf(result, after, now.data, paths), paint, asking));
  return EXIT.pass;
}

const nameOf = ({ problem, file }: Finding): string => `${problem.code} ${file} ${dotted(problem.path)}`;

function unreadable(findings: readonly Finding[], io: Io): number {
  io.err(findings.map((finding) => `${findingLine(finding)}\n`).join(''));
  return EXIT.unreadable;
}

/** What comes next in a trial. @throws Refused where it cannot be read; once said */
function ahead(file: string, io: Io) {
  const { text, result } = standing(file, io);
  if (result.verdict !== 'invalid')
    return { trial: result.trial, next: nextOf(result.trial, readSource(file, text).data) };
  throw new Refused(unreadable(result.findings, io));
}

function sayNext(file: string, io: Io): number {
  const { trial, next } = ahead(file, io);
  io.out(wouldAsk(file, next, trial));
  return EXIT.pass;
}

/** Asks for what comes next, one reading at a time; each answer is noted at once. */
function askAll(file: string, clock: string | null, io: Io): number {
  const { trial, next } = ahead(file, io);
  for (const line of careFor(next)) io.err(`${line}\n`);
  if (next.asks.length === 0) io.out(wouldAsk(file, next, trial));
  let meter: string | null = null;
  for (const ask of next.asks) {
    // Nothing says yet which batch a container was weighed at, or whose prints these are.
    if (ask.ofBatch && meter === null) continue;
    const answer = answerTo(
      ask,
      `${harmless(askWords(ask, next, trial))}: `,
      { file, next, clock, meter },
      io,
    );
    if (answer === null) return EXIT.pass;
    if (ask.option === 'meter' && answer !== '') meter = answer;
  }
  // What comes after the run is taken at once; a batch has to be printed first.
  return next.when === 'end' && meter !== null ? askAll(file, clock, io) : EXIT.pass;
}

/** One question, asked again until its answer is taken; empty for later, null where the input ends. */
function answerTo(
  ask: Ask,
  question: string,
  so: {
    readonly file: string;
    readonly next: Next;
    readonly clock: string | null;
    readonly meter: string | null;
  },
  io: Io,
): string | null {
  for (;;) {
    const line = io.ask(question);
    const answer = line?.trim() ?? '';
    if (line === null || answer === '') return line === null ? null : '';
    const given = answered(so.next, ask, answer, { meter: so.meter, at: so.clock });
    const code = write(so.file, given, so.clock, io, true);
    if (code === EXIT.pass) return answer;
    if (code === EXIT.other) throw new Refused(code);
  }
}

/** The command `note` on the command line. */
export const noteCommand: Define = (program, io, done) => {
  program
    .command('note')
    .description('write down a reading at the machine, as it is taken')
    .argument('<file>', 'the trial')
    .option('--meter <reading>', 'the meter: at the end of a batch, or of what else is noted')
    .option('--container <mass>', 'mass of the waste container at the end of a batch, in g', collect)
    .option('--cartridge <slot=mass>', 'mass of a cartridge, in g; may be given again', collect)
    .option('--started <time>', 'when that batch began')
    .option('--other', 'that batch was printed on this meter, and is not of the trial')
    .option('--coverage <percent>', 'coverage of that batch, or slot=percent; may be given again', collect)
    .option('--temperature <°C>', 'temperature of the air, beside anything or alone')
    .option('--humidity <percent>', 'relative humidity of the air')
    .option('--start', 'the run begins: --meter, --tare, --cartridge')
    .option('--tare <mass>', 'mass of the empty waste container, in g', collect)
    .option('--end', 'the run is over: --meter, --final, --cartridge')
    .option('--final <mass>', 'mass of the waste container after the run, in g', collect)
    .option('--event <kind>', 'something happened: jam, misfeed, stop, error, shake, service, …')
    .option('--slot <slot>', 'the slot an event, a finding or a print is of')
    .option('--text <words>', 'a few words to an event, a finding, a print or a batch')
    .option('--finding <part>', 'a part was looked at: --severity, --stage')
    .option('--severity <word>', 'none, minor, major or critical')
    .option('--print <attribute>', 'a print was judged by eye: --grade; background, streaks, …')
    .option('--grade <word>', 'none, minor, major or critical')
    .option('--stage <word>', 'of a finding: delivery, before, during, after; of a print: first, last')
    .option('--batch <n>', 'the batch a print is from')
    .option('--against <word>', 'what a print is held against: reference or first')
    .option('--photo <file>', 'a photo of a finding or a print')
    .option('--exhausted <slot>', 'the cartridge in a slot is exhausted: --meter, --by, --cartridge')
    .option('--by <word>', 'how that showed: stop or fade; of a print: who looked at it')
    .option('--fitted <key=value,…>', 'the cartridge in its place: serial, start_mass, lot')
    .option('--reading <name=value>', 'any reading by its name; may be given again', collect)
    .option('--at <time>', 'when it was, as 2026-03-09T09:10 or 9:10; now unless said')
    .addOption(new Option('--no-time', 'note no time').conflicts('at'))
    .option('--correct', 'replace a reading; the old one is kept as a comment behind it')
    .addHelpText(
      'after',
      `
A bare number is in the unit of its key. A mass weighed several times is a list
(1069g,1070g,1069g), or its option is given again. Without options it asks for what comes
next, one reading at a time, empty for later; where nobody can be asked it says
what it would ask. What the rules refuse is not written.

Exit codes: 0 written, or said what is next; 3 refused by the rules, or the file
could not be read; 4 wrong usage; 5 not written, as when the file has changed.

Examples:
  tallytare note lot-k20.yaml --start --meter 41902 --tare 612g
  tallytare note lot-k20.yaml --meter 43903 --container 631.5g \\
      --temperature 21.4 --humidity 46
  tallytare note lot-k20.yaml --meter 44350 --container 645g --other --coverage 20%
  tallytare note lot-k20.yaml --event jam --slot black --meter 44120
  tallytare note lot-k20.yaml --exhausted black --meter 55340 --by stop \\
      --fitted serial=K20-0117,start_mass=812g
  tallytare note lot-k20.yaml --finding fuser --severity none --stage after
  tallytare note lot-k20.yaml --print background --grade none --stage last
  tallytare note lot-k20.yaml --end --meter 65902 --final 1069g,1070g,1069g`,
    )
    .action((file: string, options: NoteOptions) => done(note(file, options, io)));
};
