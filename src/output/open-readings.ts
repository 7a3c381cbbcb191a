import type { Run, Trial } from '../trial/trial.ts';
import { dotted, type Path } from '../uncertainty/path.ts';

/** Readings still to be taken, in words: what is judged in one list goes into one. */
export interface OpenReadings {
  readonly words: string;
  readonly paths: readonly Path[];
}

/** Readings in their order; those that follow each other in one list to be judged are named together. */
export function openReadings(paths: readonly Path[], trial: Trial): readonly OpenReadings[] {
  const groups: Path[][] = [];
  for (const path of paths) {
    const last = groups.at(-1);
    const [before] = last ?? [];
    if (last !== undefined && before !== undefined && isJudged(path) && listOf(before) === listOf(path))
      last.push(path);
    else groups.push([path]);
  }
  return groups.map((group): OpenReadings => {
    const [first = []] = group;
    if (group.length === 1) return { words: dotted(first), paths: group };
    const named = [...new Set(group.flatMap((path) => partOf(path, trial) ?? []))];
    return { words: `${listOf(first)} (${named.join(', ')})`, paths: group };
  });
}

const isJudged = (path: Path): boolean => path.at(-1) === 'severity';

/** The list that a path goes into; of a reading that is not judged, the reading itself. */
const listOf = (path: Path): string => dotted(isJudged(path) ? path.slice(0, -2) : path);

/** What is judged there. */
function partOf(path: Path, { run, reference }: Trial): string | null {
  const own: Run | null = path[0] === 'reference' ? reference : run;
  const index = Number(path.at(-2));
  if (path.at(-3) === 'inspection') return named(own?.inspection?.[index], (one) => one.part);
  return named(own?.prints.byEye?.[index], (one) => one.attribute);
}

const named = <T extends { readonly slot: string | null }>(
  one: T | undefined,
  what: (one: T) => string | null,
): string | null =>
  one === undefined ? null : [what(one), one.slot].filter((part) => part !== null).join(' of ');
