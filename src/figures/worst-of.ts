import { SEVERITIES, type SeverityWord } from '../trial/schema/severities.ts';
import { Measured } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { Path } from '../uncertainty/path.ts';

/**
 * The worst of the severities that were given, as a place in their order. While one is still to be judged the worst is
 * no better than what is known.
 *
 * @throws NotDerived where one is still to be judged and nothing worse than none is known
 */
export function worstOf(
  judged: readonly { readonly path: Path; readonly severity: SeverityWord | null }[],
): Measured {
  const worst = Math.max(
    0,
    ...judged.flatMap(({ severity }) => (severity ? SEVERITIES.indexOf(severity) : [])),
  );
  const unread = judged.find(({ severity }) => severity === null);
  if (unread === undefined) return Measured.exact(worst);
  if (worst === 0) throw new NotDerived({ code: 'reading-missing', path: [...unread.path, 'severity'] });
  // What is still to be judged may be worse.
  return Measured.exact(worst).as('at_least');
}
