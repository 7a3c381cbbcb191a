import { grouped } from '../trial/grouped.ts';
import { SEVERITIES, type SeverityWord } from '../trial/schema/severities.ts';
import type { SeenPrint } from '../trial/trial.ts';

/** What the people who looked at one print each said of it. */
export interface View {
  readonly by: string;
  readonly severity: SeverityWord;
}

/** One print that people see differently: the same attribute, slot, stage and batch, held against the same. */
export interface SeenApart {
  readonly print: SeenPrint;
  /** The least and the worst it may be, as places in the order of severities. */
  readonly least: number;
  readonly worst: number;
  readonly views: readonly View[];
}

/**
 * The prints that two people or more have judged, and not alike, in file order. What someone said twice counts at
 * its worst; what nobody put a name to cannot be told from one more look of the same person, and counts as it is.
 */
export const seenApart = (seen: readonly SeenPrint[]): readonly SeenApart[] =>
  byPrint(seen).flatMap(({ print, unsigned, views }) => {
    const ranks = views.map(({ severity }) => rank(severity));
    const [least, worst] = [Math.max(unsigned, Math.min(...ranks)), Math.max(unsigned, ...ranks)];
    return views.length < 2 || least === worst ? [] : [{ print, least, worst, views }];
  });

/** The worst of all prints, each taken as the person sees it who thinks best of it; a place in the order of severities. */
export const leastWorst = (seen: readonly SeenPrint[]): number =>
  Math.max(
    0,
    ...byPrint(seen).map(({ unsigned, views }) =>
      views.length === 0
        ? unsigned
        : Math.max(unsigned, Math.min(...views.map(({ severity }) => rank(severity)))),
    ),
  );

const rank = (severity: SeverityWord): number => SEVERITIES.indexOf(severity);

/** What was said of each print: by whom, and what has no name to it. */
function byPrint(
  seen: readonly SeenPrint[],
): { readonly print: SeenPrint; readonly unsigned: number; readonly views: readonly View[] }[] {
  const prints = grouped(seen, (one) =>
    JSON.stringify([one.attribute, one.slot, one.stage, one.batch, one.against]),
  );
  return Array.from(prints.values(), (own) => {
    const said = new Map<string, SeverityWord>();
    let unsigned = 0;
    for (const { by, severity } of own) {
      if (severity === null) continue;
      if (by === null) unsigned = Math.max(unsigned, rank(severity));
      else if (rank(severity) >= rank(said.get(by) ?? 'none')) said.set(by, severity);
    }
    return { print: own[0], unsigned, views: Array.from(said, ([by, severity]) => ({ by, severity })) };
  });
}
