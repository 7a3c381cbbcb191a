import type { YamlSlip } from '../../problems/problem.ts';
import type { FileKind } from '../../text/kind.ts';
import { outside, YAML_HINTS, type Words } from './said.ts';

/** Slips of typing, as the sentence says what is wrong with the line. */
const SLIPS_OF_YAML: Readonly<Record<YamlSlip, string>> = {
  tab: 'A tab stands in this line; YAML is indented with spaces.',
  'space-after-colon': 'A space is missing after the colon.',
  indentation: 'This line does not begin in the column of those it belongs to.',
  'not-closed': 'A bracket or brace that is opened in this line is not closed.',
  'closed-twice': 'A bracket or brace too many is closed in this line.',
  text: 'A sign in this text means something else in YAML: the text belongs in quotation marks.',
  'not-opened': 'A bracket or brace is closed in this line that was not opened.',
  quote: 'A quotation mark is missing in this line.',
  colon: 'The colon after the key is missing.',
};

/** Kinds of files that are no trials. */
export const KINDS: Readonly<Record<FileKind, string>> = {
  pdf: 'a PDF',
  picture: 'a picture',
  spreadsheet: 'a spreadsheet, or another packed document',
  packed: 'a packed file',
  'utf-16': 'text in UTF-16',
  table: 'a table (CSV)',
};

/** A file that cannot be opened, or is no YAML. */
export const FILE_WORDS = {
  'internal-fault': ({ why }) => ({
    say: `This program failed on this file: ${why}.`,
    mend: 'That is a fault of the program, not of the file; please tell its makers. The other files were judged.',
  }),
  'file-unreadable': ({ why }) => ({
    say: `This file cannot be read: ${why}.`,
    mend: 'Check its name and folder.',
  }),
  'folder-unreadable': ({ why }) => ({
    say: `This folder cannot be read: ${why}.`,
    mend: 'What is in it was not looked at.',
  }),
  'no-trials-here': () => ({
    say: 'This folder holds no trial file.',
    mend: 'Trial files end in .yaml or .yml; hidden ones are passed over.',
  }),
  'no-file-fits': () => ({
    say: 'No trial file fits this pattern.',
    mend: 'Check it, and the folder it starts from; trial files end in .yaml or .yml.',
  }),
  'empty-list': () => ({
    say: 'This list names no file, so nothing was looked at.',
    mend: 'Check what made the list; one name stands on a line, or ends with NUL.',
  }),
  'file-too-large': () => ({
    say: 'This file is larger than 4 MiB; a trial has at most that.',
    mend: 'Check that it is the right file.',
  }),
  'not-utf8': ({ byte }) => ({
    say: `This file is not UTF-8 text: byte ${byte + 1} fits no character.`,
    mend: 'Save it again as UTF-8.',
  }),
  'other-kind': ({ kind }) => ({
    say: `This file is ${KINDS[kind]}, and no trial.`,
    mend:
      kind === 'utf-16'
        ? 'Save it again as UTF-8.'
        : kind === 'table'
          ? 'Name it in a trial, as in "ambient: {file: room.csv}" or "batches: {file: batches.csv}".'
          : 'A trial is a text file whose name ends in .yaml; "tallytare start" writes one.',
  }),
  'empty-file': () => ({
    say: 'This file is empty.',
    mend: 'A trial needs at least the keys "trial" and "meter", a set of limits at least one limit.',
  }),
  'not-yaml': ({ yaml, detail }) => ({
    say: `This is not well-formed YAML: ${detail.charAt(0).toLowerCase()}${detail.slice(1)}.`,
    mend: YAML_HINTS[yaml] ?? 'Look at the indentation, brackets and colons here and on the line before.',
  }),
  'yaml-slip': ({ slip, write, column }) => ({
    say: SLIPS_OF_YAML[slip],
    mend:
      slip === 'indentation' || slip === 'tab'
        ? `Begin it in column ${column}, behind ${column - 1} ${column === 2 ? 'space' : 'spaces'}: ${write}`
        : `Write: ${write}`,
  }),
  'cut-by-note': ({ kept, cut }) => ({
    say: `A # behind a blank begins a note: "${kept}" is read, "${cut}" is not.`,
    mend: `Where it belongs to the text, put both in quotation marks: "${kept} ${cut}".`,
  }),
  'several-documents': () => ({
    say: 'A second document begins here.',
    mend: 'Keep one trial a file; take out the "---" or split the file.',
  }),
  'nested-too-deep': () => ({
    say: 'The brackets or lists of this file go deeper than any trial needs.',
    mend: 'Check that it is the right file.',
  }),
  'too-long': () => ({
    say: 'This file holds far more than any trial.',
    mend: 'Check that it is the right file.',
  }),
  'too-many-entries': ({ entries, most }) => ({
    say: `A list or map of ${entries} entries stands here; a trial has at most ${most}.`,
    mend: 'Check that it is the right file; of a logger keep every tenth reading.',
  }),
  alias: () => ({
    say: 'An alias (*name) stands here; a trial says everything where it belongs.',
    mend: 'Write the value itself; text that begins with * goes in quotation marks.',
  }),
  tag: ({ tag }) => ({
    say: `A tag (${tag}) stands here; values are read by their key.`,
    mend: 'Take the tag out.',
  }),
  'key-not-text': () => ({ say: 'This key is not a word.', mend: 'Write a plain key before the colon.' }),
  'duplicate-key': ({ key, firstLine }) => ({
    say: `The key "${key}" stands here a second time; it is already on line ${firstLine}.`,
    mend: 'Keep one of the two.',
  }),
  'more-problems': ({ count }) => ({
    say: `There are ${count} more problems like these.`,
    mend: 'Mend the first ones and try again.',
  }),
  'photo-unreadable': ({ photo, why }) => ({
    say: `The photo "${photo}" cannot be read: ${why}.`,
    mend: 'Check its name, which counts from the folder of the trial file.',
  }),
  'photo-outside': ({ photo }) => outside('photo', photo),
  'photo-no-image': ({ photo }) => ({
    say: `"${photo}" is no JPEG, PNG or WebP image, whatever its name says.`,
    mend: 'Save the photo as one of these.',
  }),
  'photo-too-large': ({ photo, mebibytes }) => ({
    say: `The photo "${photo}" has more than ${mebibytes} MiB.`,
    mend: 'Save a smaller copy of it.',
  }),
  'photos-too-large': ({ mebibytes }) => ({
    say: `With this photo all photos together have more than ${mebibytes} MiB.`,
    mend: 'Save smaller copies of them, or leave some out.',
  }),
} satisfies Partial<Words>;
