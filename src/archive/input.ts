/**
 * A file that a result rests on: the trial itself, a table, a document or a photo it names, or limits it was held against. `file` is
 * the name the trial knows it by, from the trial's folder (of a preset the preset's), `sha256` the SHA-256 of its
 * bytes in hexadecimal.
 */
export interface Input {
  readonly kind: 'trial' | 'table' | 'document' | 'limits' | 'preset' | 'photo';
  readonly file: string;
  readonly sha256: string;
}
