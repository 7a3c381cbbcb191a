import { Option } from 'commander';
import type { Define } from './define.ts';
import { counted, LARGEST_DOCUMENT } from '../files/document.ts';
import { coverageJson, coverageText } from '../output/coverage.ts';
import { harmless } from '../output/harmless.ts';
import { rasterFaultWords } from '../output/raster-words.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { paintFor } from '../world/terminal.ts';
import { toolName } from '../world/tool.ts';

export const COVERAGE_FORMATS = ['text', 'json'] as const;

export interface CoverageOptions {
  readonly format: (typeof COVERAGE_FORMATS)[number];
}

const MEBIBYTE = 1024 * 1024;

/** `coverage FILE`: the coverage of a document, counted in its picture. */
export function coverage(file: string, { format }: CoverageOptions, io: Io): number {
  const unusable = (why: string): number => {
    io.err(`tallytare: ${harmless(file)}: ${harmless(why)}\n`);
    return EXIT.unreadable;
  };
  let bytes: Uint8Array;
  try {
    bytes = io.plainFile(file, LARGEST_DOCUMENT);
  } catch (error) {
    return unusable(systemWords(error));
  }
  if (bytes.length > LARGEST_DOCUMENT)
    return unusable(
      `it has more than ${LARGEST_DOCUMENT / MEBIBYTE} MiB; save it with LZW, or with fewer pages`,
    );
  const sha256 = io.digest(bytes);
  const found = counted(bytes, sha256);
  if ('code' in found) return unusable(rasterFaultWords(found));
  const named = { file, sha256, counted: found };
  io.out(format === 'json' ? coverageJson(named, toolName()) : coverageText(named, paintFor(io)));
  return EXIT.pass;
}

/** The command `coverage` on the command line. */
export const coverageCommand: Define = (program, io, done) => {
  program
    .command('coverage')
    .description('count the coverage of a document in its picture, PNG or TIFF')
    .argument('<file>', 'the document as a picture: grey, or cyan, magenta, yellow and black')
    .addOption(new Option('--format <format>', 'how to print').choices(COVERAGE_FORMATS).default('text'))
    .addHelpText(
      'after',
      '\nExit codes: 0 done; 3 the picture could not be read or counted; 4 wrong usage;\n5 anything else.\n\nExample:\n  tallytare coverage examples/documents/letter.png',
    )
    .action((file: string, options: CoverageOptions) => done(coverage(file, options, io)));
};
