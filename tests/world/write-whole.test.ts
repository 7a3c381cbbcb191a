import {
  chmodSync,
  lstatSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeUnchanged, writeWhole } from '../../src/world/write-whole.ts';

const folder = (): string => mkdtempSync(join(tmpdir(), 'tallytare-'));

describe('a file is written whole', () => {
  it('with nothing left beside it', () => {
    const here = folder();
    writeWhole(join(here, 'a.yaml'), 'é\n', false);
    expect(readFileSync(join(here, 'a.yaml'), 'utf8')).toBe('é\n');
    expect(readdirSync(here)).toEqual(['a.yaml']);
  });

  it('and never over another one unless told', () => {
    const here = folder();
    const file = join(here, 'a.yaml');
    writeFileSync(file, 'before');
    expect(() => {
      writeWhole(file, 'after', false);
    }).toThrow(expect.objectContaining({ code: 'EEXIST' }) as Error);
    expect(readFileSync(file, 'utf8')).toBe('before');
    writeWhole(file, 'after', true);
    expect(readFileSync(file, 'utf8')).toBe('after');
    expect(readdirSync(here)).toEqual(['a.yaml']);
  });

  it('keeping permissions, and a link a link', () => {
    const here = folder();
    const file = join(here, 'a.yaml');
    writeFileSync(file, 'before');
    chmodSync(file, 0o640);
    symlinkSync('a.yaml', join(here, 'link.yaml'));
    writeWhole(join(here, 'link.yaml'), 'after', true);
    expect(readFileSync(file, 'utf8')).toBe('after');
    expect(statSync(file).mode & 0o777).toBe(0o640);
    expect(lstatSync(join(here, 'link.yaml')).isSymbolicLink()).toBe(true);
  });

  it('or not at all', () => {
    const here = folder();
    expect(() => {
      writeWhole(join(here, 'none', 'a.yaml'), 'x', false);
    }).toThrow(expect.objectContaining({ code: 'ENOENT' }) as Error);
    expect(() => {
      writeWhole(here, 'x', true);
    }).toThrow();
    expect(readdirSync(here)).toEqual([]);
  });
});

describe('a file is written anew', () => {
  it('where it is still as it was read', () => {
    const here = folder();
    const file = join(here, 'a.yaml');
    writeFileSync(file, 'before');
    chmodSync(file, 0o640);
    symlinkSync('a.yaml', join(here, 'link.yaml'));
    writeUnchanged(join(here, 'link.yaml'), Buffer.from('before'), 'after');
    expect(readFileSync(file, 'utf8')).toBe('after');
    expect(statSync(file).mode & 0o777).toBe(0o640);
    expect(readdirSync(here).toSorted()).toEqual(['a.yaml', 'link.yaml']);
  });

  it('and not where it is another by now', () => {
    const here = folder();
    const file = join(here, 'a.yaml');
    writeFileSync(file, 'another');
    expect(() => {
      writeUnchanged(file, Buffer.from('before'), 'after');
    }).toThrow(expect.objectContaining({ code: 'CHANGED' }) as Error);
    expect(readFileSync(file, 'utf8')).toBe('another');
    expect(readdirSync(here)).toEqual(['a.yaml']);
  });
});
