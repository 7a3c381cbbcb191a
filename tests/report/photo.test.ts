import fc from 'fast-check';
import { expect, test } from 'vitest';
import { imageKind } from '../../src/report/photo.ts';
import { bytesOf, GIF, IMAGES } from './images.ts';

test.each(IMAGES)('%s is known by its content', (_, type, base64) => {
  expect(imageKind(bytesOf(base64))).toEqual({ type, width: 7, height: 5 });
});

test.each(IMAGES)('%s cut off in its header is none', (_, _type, base64) => {
  expect(imageKind(bytesOf(base64).subarray(0, 14))).toBeNull();
});

test.each([
  ['GIF', bytesOf(GIF)],
  ['SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>')],
  ['HTML', Buffer.from('<!doctype html><script>alert(1)</script>')],
  ['nothing', new Uint8Array()],
  ['the signature of a PNG alone', Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])],
])('%s is none of the three', (_, bytes) => {
  expect(imageKind(bytes)).toBeNull();
});

test('no bytes throw or hang', () => {
  const start = fc.constantFrom([0xff, 0xd8, 0xff], [0x89, 0x50], [0x52, 0x49, 0x46, 0x46]);
  fc.assert(
    fc.property(start, fc.uint8Array({ maxLength: 200 }), (head, rest) => {
      const found = imageKind(new Uint8Array([...head, ...rest]));
      expect(found === null || (found.width > 0 && found.height > 0)).toBe(true);
    }),
    { numRuns: 500 },
  );
});
