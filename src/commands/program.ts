import { Command, CommanderError } from 'commander';
import type { Define } from './define.ts';
import { EXIT_CODES } from './help.ts';
import { EXIT, guarded } from '../world/exit.ts';
import type { Io } from '../world/io.ts';
import { version } from '../world/tool.ts';

/**
 * The whole program but for the process around it and the list of its commands: words of the command line
 * in, exit code out. Nothing is thrown.
 */
export function runProgram(commands: readonly Define[], argv: readonly string[], io: Io): number {
  return guarded(io, () => {
    let code: number = EXIT.pass;
    const program = programOf(io);
    for (const define of commands) define(program, io, (done) => (code = done));
    try {
      program.parse([...argv], { from: 'user' });
      return code;
    } catch (error) {
      if (!(error instanceof CommanderError)) throw error;
      return error.exitCode === 0 ? EXIT.pass : EXIT.usage;
    }
  });
}

const programOf = (io: Io): Command =>
  new Command('tallytare')
    .description('A calculator for consumable yield trials: readings in, a defended verdict out.')
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .exitOverride()
    .configureOutput({
      writeOut: (text) => io.out(text),
      writeErr: (text) => io.err(text),
      getOutHelpWidth: () => 80,
      getErrHelpWidth: () => 80,
      getOutHasColors: () => false,
      getErrHasColors: () => false,
    })
    .addHelpText('after', EXIT_CODES);
