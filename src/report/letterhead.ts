import type { LetterheadData } from '../trial/schema/letterhead.ts';

/** Who sends a report, to whom, and under which number: for the head of the page. */
export interface Letterhead {
  readonly name: string;
  readonly address: readonly string[];
  readonly logo: Logo | null;
  readonly customer: readonly string[];
  /** Number, revision, day of issue and what else tells one report from another. */
  readonly facts: readonly (readonly [word: string, said: string])[];
  /** Number and revision in a line, for every page; null where there is no number. */
  readonly id: string | null;
  readonly authorisedBy: string | null;
}

/** A logo as a picture that stands in the page. */
export interface Logo {
  readonly type: 'image/png' | 'image/jpeg' | 'image/svg+xml';
  readonly width: number;
  readonly height: number;
  readonly base64: string;
}

/** What the command line says of a report, over what its letterhead says. */
export interface Numbered {
  readonly number?: string | undefined;
  readonly revision?: string | undefined;
  readonly issued?: string | undefined;
}

const linesOf = (said: string | readonly string[] | null | undefined): string[] =>
  (said == null ? [] : typeof said === 'string' ? said.split('\n') : [...said]).filter((line) => line !== '');

/** A letterhead from its file, if there is one, and from the command line; null where neither says anything. */
export function letterheadOf(
  data: LetterheadData | null,
  logo: Logo | null,
  over: Numbered,
): Letterhead | null {
  const number = over.number ?? data?.number ?? null;
  const revision = over.revision ?? data?.revision ?? null;
  const issued = over.issued ?? data?.issued?.text ?? null;
  if (data === null && number === null && revision === null && issued === null) return null;
  const facts = [
    ['report', number],
    ['revision', revision],
    ['issued', issued],
    ['received', data?.received?.text],
    ['place of test', data?.place],
  ] as const;
  return {
    name: data?.name ?? '',
    address: linesOf(data?.address),
    logo,
    customer: linesOf(data?.customer),
    facts: facts.flatMap(([word, said]) => (said == null ? [] : [[word, said] as const])),
    id: number === null ? null : `${number}${revision === null ? '' : `, revision ${revision}`}`,
    authorisedBy: data?.authorised_by ?? null,
  };
}
