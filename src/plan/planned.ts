import { NotDerived, type Reason } from '../uncertainty/not-derived.ts';
import type { Path } from '../uncertainty/path.ts';

/** Something planned, or the reason why it cannot be. */
export type Planned<T> = { readonly value: T } | { readonly reason: Reason };

/** The one place of the plan where a formula's refusal becomes a reason. */
export function planned<T>(formula: () => T): Planned<T> {
  try {
    return { value: formula() };
  } catch (refusal) {
    if (refusal instanceof NotDerived) return { reason: refusal.reason };
    throw refusal;
  }
}

/** What was planned, or null. */
export const valueOf = <T>(one: Planned<T>): T | null => ('value' in one ? one.value : null);

/** What was planned, for what is planned from it in turn. @throws NotDerived for the same reason */
export function from<T>(one: Planned<T>): T {
  if ('reason' in one) throw new NotDerived(one.reason);
  return one.value;
}

/** What the file gives, or a reason that names it. @throws NotDerived */
export function given<T>(value: T | null | undefined, ...path: Path): T {
  if (value == null) throw new NotDerived({ code: 'not-given', path });
  return value;
}
