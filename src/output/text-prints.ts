import { marksOn, rotatingPartsOf } from '../figures/repeating-marks.ts';
import type { HeldAgainst } from '../trial/schema/prints.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import type { SeenPrint, Trial } from '../trial/trial.ts';
import { padEnd, wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { millimetres, partsWords } from './marks.ts';

/** What was seen on the prints by eye, in lines for people. */

/** What is as good as what it was held against in a line; then a line for each print that is worse, the worst first. */
export function byEyeLines(seen: readonly SeenPrint[] | null): string[] {
  if (seen === null) return [];
  if (seen.length === 0) return ['  by eye: nothing worse was found'];
  return [
    ...asGood(seen).flatMap((said) => wrap(harmless(said), '  ', '    ')),
    ...worse(seen).flatMap((one) => {
      const { attribute, slot, severity, note, by } = one;
      const what = [attribute, slot].filter((part) => part !== null).join(', ');
      const said = `${what}${note === null ? '' : `: ${note}`}${by === null ? '' : ` (${by})`}`;
      return wrap(harmless(said), `  ${padEnd(severity ?? '', 9)}${padEnd(printOf(one), 10)}`);
    }),
  ];
}

/** Marks that repeat down the page: each with its distance, where it is seen, and the parts it can come from. */
export function markLines({ data, run }: Trial): string[] {
  const parts = rotatingPartsOf(data.machine);
  return run.prints.marks.flatMap(({ distance, slot, note }) => {
    const what = [`mark every ${millimetres(distance.text)}`, slot, note].filter((one) => one !== null);
    const from = parts.length === 0 ? '' : `: ${partsWords(marksOn(distance.value, parts))}`;
    return wrap(harmless(`${what.join(', ')}${from}`), '  ', '    ');
  });
}

/** Which print of the run it is; empty where nobody said. */
export const printOf = ({ stage, batch }: SeenPrint): string =>
  [stage, batch === null ? null : `batch ${batch}`].filter((part) => part !== null).join(', ');

/** What is worse than it was held against, the worst first. */
export const worse = (seen: readonly SeenPrint[]): readonly SeenPrint[] =>
  seen
    .filter(({ severity }) => severity !== null && severity !== 'none')
    .toSorted((a, b) => rank(b) - rank(a));

const rank = ({ severity }: SeenPrint): number => (severity === null ? -1 : SEVERITIES.indexOf(severity));

const AS: Readonly<Record<HeldAgainst, string>> = {
  reference: 'as the reference',
  first: 'as the first print',
};

/** What nobody found worse: "background, streaks (black, cyan): as the reference". */
export function asGood(seen: readonly SeenPrint[]): string[] {
  const bad = worse(seen);
  const good = seen.filter(
    ({ severity, attribute, slot }) =>
      severity === 'none' && !bad.some((one) => one.attribute === attribute && one.slot === slot),
  );
  return (['reference', 'first'] as const).flatMap((against) => {
    const own = good.filter((one) => one.against === against);
    const names = [...new Set(own.map(({ attribute }) => attribute))].map((attribute) => {
      const all = own.filter((one) => one.attribute === attribute);
      const slots = [...new Set(all.flatMap(({ slot }) => slot ?? []))];
      return all.some(({ slot }) => slot === null) ? attribute : `${attribute} (${slots.join(', ')})`;
    });
    return names.length === 0 ? [] : [`${names.join(', ')}: ${AS[against]}`];
  });
}
