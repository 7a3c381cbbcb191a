/**
 * A file that a result rests on: the trial itself, or limits it was held against. `file` is the name the
 * trial knows it by (of a preset the preset's), `sha256` the SHA-256 of its bytes in hexadecimal.
 */
export interface Input {
  readonly kind: 'trial' | 'limits' | 'preset';
  readonly file: string;
  readonly sha256: string;
}
