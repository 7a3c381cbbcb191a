import type { KeyAccount } from '../trial/schema/key-account.ts';
import { wrap } from './columns.ts';
import { harmlessJson } from './harmless.ts';
import type { CodeData, KeyData } from './schema/reference.ts';
import type { Paint } from './paint.ts';

/** What a key of the trial file, or a code of a finding, means. */

const FORMAT = 1;

const rows = (head: string, said: readonly (readonly [word: string, text: string])[], paint: Paint): string =>
  [
    paint.strong(head),
    '',
    ...said.flatMap(([word, text]) => (text === '' ? [] : wrap(text, `  ${word.padEnd(10)}`))),
  ].join('\n') + '\n';

export const keyText = ({ key, description, takes, example }: KeyAccount, paint: Paint): string =>
  rows(
    key,
    [
      ['means', description],
      ['takes', takes],
      ['example', example],
    ],
    paint,
  );

export const keyJson = (account: KeyAccount, tool: string): string =>
  `${harmlessJson({ format: FORMAT, tool, ...account } satisfies KeyData, 2)}\n`;

export const codeText = (code: string, severity: string, meaning: string, paint: Paint): string =>
  rows(
    code,
    [
      ['means', meaning],
      ['severity', severity],
    ],
    paint,
  );

export const codeJson = (code: string, severity: string, meaning: string, tool: string): string =>
  `${harmlessJson({ format: FORMAT, tool, code, severity, meaning } satisfies CodeData, 2)}\n`;
