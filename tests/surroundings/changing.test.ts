import * as fs from 'node:fs';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { processIo } from '../../src/world/io.ts';
import { folderWith } from '../built.ts';

/** Called in the middle of reading, once. */
let meanwhile: (() => void) | null = null;

vi.mock('node:fs', async (original) => {
  const real = await original<typeof fs>();
  return {
    ...real,
    readSync: (descriptor: number, chunk: Uint8Array) => {
      const got = real.readSync(descriptor, chunk);
      meanwhile?.();
      meanwhile = null;
      return got;
    },
  };
});

test('a file that changes while it is read is neither its old nor its new state', () => {
  const file = join(folderWith({ 'a.yaml': 'trial: a\n' }), 'a.yaml');
  const io = processIo('.');
  expect(Buffer.from(io.read(file)).toString()).toBe('trial: a\n');
  meanwhile = () => {
    fs.appendFileSync(file, 'meter: {}\n');
  };
  expect(() => io.read(file)).toThrow(expect.objectContaining({ code: 'CHANGED' }) as Error);
  expect(Buffer.from(io.read(file)).toString()).toBe('trial: a\nmeter: {}\n');
});
