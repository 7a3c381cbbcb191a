import type { Letterhead } from './letterhead.ts';
import type { Outcome } from '../judge/decide.ts';
import type { SeverityWord } from '../trial/schema/severities.ts';

/**
 * What a report says, before it is HTML or Markdown: plain texts in plain blocks. Every text may come from
 * a trial file; making it harmless is the business of whoever writes it out, and of no one before.
 */
export interface Report {
  /** What it is a report of. */
  readonly kind: string;
  readonly title: string;
  readonly letterhead: Letterhead | null;
  /** Number or code of the report, else of the trial, for every page; null where there is none. */
  readonly id: string | null;
  /** What is said at the top, beside the title. */
  readonly headline: Headline;
  readonly sections: readonly Section[];
  /** The verdict as JSON, for those who go on reckoning with it. */
  readonly data?: { readonly name: string; readonly json: string };
  /** Texts of the files, some of which may be written from right to left. */
  readonly texts?: readonly string[];
  /** The tool that made it. */
  readonly tool: string;
}

/** What stands on the first screen: the answer, and what it takes to rely on it. */
export interface Headline {
  /** The verdict of a trial, or what is said of the claim over several; it chooses the mark. */
  readonly verdict: 'pass' | 'fail' | 'inconclusive' | null;
  /** In a word: Pass. */
  readonly word: string;
  /** In one sentence, with its number. */
  readonly said: string;
  /** What belongs to it, in smaller letters. */
  readonly more: readonly string[];
  /** The figure that decides, against its limit. */
  readonly strip: Picture | null;
  readonly facts: readonly Fact[];
  /** What must be known before relying on it, worst first. */
  readonly caveats: readonly string[];
  /** What it speaks of. */
  readonly covers: string;
}

/** A fact of the first screen: what it is, the fact, and what it is held against. */
export interface Fact {
  readonly word: string;
  readonly said: string;
  readonly beside: string;
}

/** A part of the report with a heading of its own. */
export interface Section {
  readonly title: string;
  /** It stands behind the report, with a letter. */
  readonly annex?: boolean;
  readonly blocks: readonly Block[];
}

export type Block =
  Paragraph | Heading | List | Facts | Table | Limits | Formulas | Picture | Photo | Signatures;

export interface Paragraph {
  readonly kind: 'paragraph';
  readonly text: string;
}

/** A heading inside a section. */
export interface Heading {
  readonly kind: 'heading';
  readonly text: string;
}

export interface List {
  readonly kind: 'list';
  readonly items: readonly string[];
}

/** Words and what there is to say to each. */
export interface Facts {
  readonly kind: 'facts';
  readonly pairs: readonly (readonly [word: string, said: readonly string[]])[];
}

export interface Table {
  readonly kind: 'table';
  readonly caption: string;
  readonly heads: readonly Head[];
  /** The first cell of a row names it. */
  readonly rows: readonly (readonly Cell[])[];
}

export interface Head {
  readonly text: string;
  /** Aligned to the right. */
  readonly numeric?: boolean;
  /** Kept on one line. */
  readonly whole?: boolean;
  /** Long digests, shown in letters of one width. */
  readonly code?: boolean;
}

export type Cell =
  | string
  | { readonly severity: SeverityWord }
  /** A colour as a screen shows it, beside its numbers. */
  | { readonly swatch: string; readonly text: string }
  /** A page beside this one. */
  | { readonly link: string; readonly text: string };

/** Limits, each with its figure and its strip. */
export interface Limits {
  readonly kind: 'limits';
  readonly rows: readonly LimitRow[];
  /** What opens them on a screen, where they are folded; on paper they are open. */
  readonly folded: string | null;
}

export interface LimitRow {
  readonly outcome: Outcome;
  readonly name: string;
  readonly value: string;
  readonly agreed: string;
  readonly margin: string;
  /** What a miss does, where it does not fail what was tried. */
  readonly effect: string;
  /** Why it is open, and what would decide it; what its uncertainty is of. */
  readonly notes: readonly string[];
  /** SVG */
  readonly strip: string;
  /** What the strip spans, where it does not begin at zero. */
  readonly scale: string;
}

/** Formulas as they were used, with where they come from. */
export interface Formulas {
  readonly kind: 'formulas';
  readonly formulas: readonly Formula[];
}

export interface Formula {
  readonly name: string;
  readonly words: string;
  readonly symbols: string;
  /** With the trial's numbers, a line for each part. */
  readonly worked: readonly string[];
  readonly source: string;
}

/** Something drawn, and the same in words for those who cannot see it. */
export interface Picture {
  readonly kind: 'picture';
  readonly title: string;
  /** What the picture shows, with the numbers that matter. */
  readonly alternative: string;
  /** How its signs are to be read. */
  readonly key: string;
  /** The picture as SVG; `id` is unique on the page. */
  readonly svg: (id: string) => string;
  /** The same drawn for a telephone, where it does not fit every width as it is. */
  readonly slim?: (id: string) => string;
}

export interface Photo {
  readonly kind: 'photo';
  readonly caption: string;
  readonly image: Image;
}

/** A photo as it was read. */
export interface Image {
  /** Its name as the trial gives it. */
  readonly name: string;
  readonly type: 'image/jpeg' | 'image/png' | 'image/webp';
  /** Pixels */
  readonly width: number;
  readonly height: number;
  readonly base64: string;
  readonly sha256: string;
}

/** Lines to sign on, one for each who signs. */
export interface Signatures {
  readonly kind: 'signatures';
  /** Who authorised the report, where it says so. */
  readonly authorisedBy: string | null;
  /** What is signed. */
  readonly of: string;
  readonly roles: readonly string[];
}

export const paragraph = (text: string): Paragraph => ({ kind: 'paragraph', text });
export const heading = (text: string): Heading => ({ kind: 'heading', text });
export const list = (items: readonly string[]): List[] => (items.length > 0 ? [{ kind: 'list', items }] : []);
/** A table, where it has rows. */
export const table = (
  caption: string,
  heads: readonly Head[],
  rows: readonly (readonly Cell[])[],
): Table[] => (rows.length > 0 ? [{ kind: 'table', caption, heads, rows }] : []);

/** Sections with the letters of the annexes before their titles. */
export function lettered(sections: readonly Section[]): Section[] {
  let annexes = 0;
  return sections.map((section) =>
    section.annex
      ? { ...section, title: `Annex ${String.fromCharCode(65 + annexes++)}: ${section.title}` }
      : section,
  );
}
