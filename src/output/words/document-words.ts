import { shownBeside } from '../numbers.ts';
import { Decimal } from '../../uncertainty/decimal.ts';
import { list, outside, type Words } from './said.ts';

const named = (slots: readonly string[]): string =>
  list(
    slots.map((slot) => slot || 'one without a name'),
    'and',
  );

/** Documents whose coverage is counted. */
export const DOCUMENT_WORDS = {
  'document-unreadable': ({ document, why }) => ({
    say: `The coverage of "${document}" cannot be counted: ${why}.`,
    mend: 'Its name counts from the folder of the trial file.',
  }),
  'document-and-value': ({ document }) => ({
    say: 'This coverage has a document, and something beside it.',
    mend: `Keep the document alone, {document: ${document.trim() || 'FILE'}}, and its coverage is counted; or write the value.`,
  }),
  'document-outside': ({ document }) => outside('document', document),
  'document-too-large': ({ document, mebibytes }) => ({
    say: `The document "${document}" has more than ${mebibytes} MiB.`,
    mend: 'Save it with LZW, or with fewer pages.',
  }),
  'document-slots': ({ document, slots, has }) =>
    has.length === 1
      ? {
          say: `"${document}" is grey, so it tells one coverage, and the cartridges are of several slots: ${named(slots)}.`,
          mend: 'Give a picture of cyan, magenta, yellow and black; or a document for each slot: coverage: {black: {document: …}}.',
        }
      : {
          say: `"${document}" tells ${named(has)}, and what is looked for is ${named(slots)}.`,
          mend: 'Name the slots of the cartridges so; or give a grey document for each slot: coverage: {black: {document: …}}.',
        },
  'document-counted': ({ document, coverages }) => ({
    say: `${document}: ${list(
      coverages.map(({ slot, coverage, tolerance }) => {
        const half = new Decimal(tolerance);
        const value = shownBeside(new Decimal(coverage), half);
        return `${slot} ${value} %${half.isZero() ? '' : ` ± ${shownBeside(half, half)} %`}`;
      }),
      'and',
    )}, counted by tint; what the edges leave open is its tolerance.`,
    mend: '',
  }),
} satisfies Partial<Words>;
