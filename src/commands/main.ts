import { compareCommand } from './compare.ts';
import { coverageCommand } from './coverage.ts';
import type { Define } from './define.ts';
import { explainCommand } from './explain.ts';
import type { Io } from '../world/io.ts';
import { lotCommand } from './lot.ts';
import { marksCommand } from './marks.ts';
import { noteCommand } from './note.ts';
import { planCommand } from './plan.ts';
import { precisionCommand } from './precision.ts';
import { poolCommand } from './pool.ts';
import { runProgram } from './program.ts';
import { reportCommand } from './report-command.ts';
import { recheckCommand } from './recheck.ts';
import { schemaCommand } from './schema.ts';
import { sealCommand } from './seal.ts';
import { startCommand } from './start.ts';
import { verdictCommand } from './verdict.ts';
import { forecastCommand } from './forecast.ts';
import { helpCommand } from './manual.ts';

/** Every command, in the order the work is done. */
const COMMANDS: readonly Define[] = [
  startCommand,
  planCommand,
  noteCommand,
  verdictCommand,
  poolCommand,
  precisionCommand,
  lotCommand,
  forecastCommand,
  coverageCommand,
  compareCommand,
  reportCommand,
  sealCommand,
  recheckCommand,
  explainCommand,
  marksCommand,
  schemaCommand,
  helpCommand,
];

/** The program with all its commands. Nothing is thrown. */
export const main = (argv: readonly string[], io: Io): number => runProgram(COMMANDS, argv, io);
