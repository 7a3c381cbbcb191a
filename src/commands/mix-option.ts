import { openSource } from '../files/open.ts';
import { readInkPages } from '../forecast/ink-pages.ts';
import type { InkDevice, Mix } from '../forecast/mix.ts';
import { readMix } from '../forecast/read-mix.ts';
import type { Tried } from '../forecast/tried.ts';
import { isFileName } from '../judge/limits.ts';
import { findingLine } from '../output/findings.ts';
import { inkFaultWords } from '../output/forecast-words.ts';
import { harmless } from '../output/harmless.ts';
import { find } from '../text/finding.ts';
import { decode } from '../world/decode.ts';
import { EXIT } from '../world/exit.ts';
import { type Io, systemWords } from '../world/io.ts';
import { Refused } from '../world/refused.ts';

/** Devices of Ghostscript that tell the coverage of each page. */
export const DEVICES = ['inkcov', 'ink_cov'] as const;

/** Says why nothing is done. @throws Refused */
export function refuse(why: string, code: number, io: Io): never {
  io.err(`tallytare: ${why}\n`);
  throw new Refused(code);
}

/** The mix: kinds of page from a YAML file, else pages that Ghostscript counted. @throws Refused, once said */
export function mixFrom(file: string, device: InkDevice | undefined, tried: Tried, io: Io): Mix {
  if (isFileName(file)) {
    if (device !== undefined) refuse('--counted-by is of a text that Ghostscript made', EXIT.usage, io);
    const source = openSource(io, file);
    const { mix, problems } = readMix(source);
    if (mix !== null) return mix;
    io.err(problems.map((problem) => `${findingLine(find(problem, source))}\n`).join(''));
    throw new Refused(EXIT.unreadable);
  }
  if (device === undefined)
    return refuse(
      `${harmless(file)} is taken for a text that Ghostscript made (a mix of kinds ends in .yaml): say by which device, --counted-by inkcov or ink_cov`,
      EXIT.usage,
      io,
    );
  const slots = [...tried.candidate.slots.keys()];
  const mix = readInkPages(file, textOf(file, io), device, slots);
  return 'code' in mix ? refuse(harmless(inkFaultWords(mix, file, device)), EXIT.unreadable, io) : mix;
}

function textOf(file: string, io: Io): string {
  try {
    const decoded = decode(io.read(file));
    if ('text' in decoded) return decoded.text;
  } catch (error) {
    return refuse(`${harmless(file)}: ${systemWords(error)}`, EXIT.unreadable, io);
  }
  return refuse(`${harmless(file)}: not a text, or larger than 4 MiB`, EXIT.unreadable, io);
}
