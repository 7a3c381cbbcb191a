import type { Command } from 'commander';
import { wrap } from '../output/columns.ts';
import { harmless } from '../output/harmless.ts';
import { manualText } from '../output/manual-text.ts';
import { nearest } from '../trial/nearest.ts';
import { decode } from '../world/decode.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, sharedFolder } from '../world/io.ts';
import { paintFor } from '../world/terminal.ts';
import type { Define } from './define.ts';

/** What each page of the manual is about, in the order they are listed. */
const TOPICS: Readonly<Record<string, string>> = {
  'before-the-run': 'start a trial, plan it',
  note: 'write readings down at the machine',
  'trial-file': 'keys, units, times; what a draft report states',
  doubts: 'readings that contradict each other',
  limits: 'limits and the decision, presets',
  figures: 'every figure with its formula and source',
  uncertainty: 'where ± U comes from',
  report: 'the page for the customer',
  'many-trials': 'folders, scripts, formats, exit codes',
  'declared-yield': 'pool trials into a declared yield',
  'accept-a-lot': 'how many to try; accept, reject or go on',
  forecast: 'toner against coverage; what a customer’s pages will take',
  coverage: 'the coverage of a document, counted in its picture',
  archive: 'seal and re-check',
  codes: 'every code of a finding',
};

/** The commands, in the order of the work. */
const GROUPS: readonly (readonly [when: string, commands: readonly string[]])[] = [
  ['Before', ['start', 'plan']],
  ['During', ['note', 'verdict']],
  ['After', ['verdict', 'explain', 'marks', 'report']],
  ['Many', ['verdict', 'pool', 'precision', 'lot', 'forecast', 'coverage', 'compare']],
  ['Archive', ['seal', 'recheck']],
  ['Reference', ['schema', 'help']],
];

/** The commands grouped by the order of the work, and the topics of the manual. */
function overview(program: Command): string {
  const about = (name: string): string =>
    program.commands.find((one) => one.name() === name)?.description() ?? '';
  const widest = Math.max(...Object.keys(TOPICS).map((name) => name.length));
  return [
    'tallytare: readings of a consumable yield trial in, a defended verdict out.',
    '',
    'Commands, in the order of the work ("tallytare COMMAND --help" says more):',
    ...GROUPS.flatMap(([when, names]) => [
      `  ${when}`,
      ...names.flatMap((name) => wrap(about(name), `    ${name.padEnd(10)}`)),
    ]),
    '',
    'Topics of the manual ("tallytare help TOPIC"):',
    ...Object.entries(TOPICS).flatMap(([name, words]) => wrap(words, `  ${name.padEnd(widest + 2)}`)),
    '',
  ].join('\n');
}

/** `help [TOPIC]`: the manual, page by page; or the help of a command. */
function help(topic: string | undefined, program: Command, io: Io): number {
  if (topic === undefined) {
    io.out(overview(program));
    return EXIT.pass;
  }
  const command = program.commands.find((one) => one.name() === topic);
  if (Object.hasOwn(TOPICS, topic)) {
    const page = decode(io.read(sharedFolder(io, 'manual', `${topic}.md`)));
    io.out('text' in page ? manualText(page.text, paintFor(io)) : '');
    return EXIT.pass;
  }
  if (command !== undefined) {
    command.outputHelp();
    return EXIT.pass;
  }
  const known = [...Object.keys(TOPICS), ...program.commands.map((one) => one.name())];
  const near = nearest(topic, known);
  io.err(
    `tallytare: there is no topic "${harmless(topic)}"; ${near === null ? `the topics are ${Object.keys(TOPICS).join(', ')}` : `did you mean "${near}"?`}\n`,
  );
  return EXIT.usage;
}

/** The command `help` on the command line. */
export const helpCommand: Define = (program, io, done) => {
  program.helpCommand(false);
  program
    .command('help')
    .description('list the commands and the topics of the manual, or show a topic')
    .argument('[topic]', 'a topic of the manual, or a command')
    .action((topic: string | undefined) => done(help(topic, program, io)));
};
