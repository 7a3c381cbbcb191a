import { createHash } from 'node:crypto';

/** SHA-256 by Node's own hash, of text or bytes. */
export const sha256 = (data: string | Uint8Array): string => createHash('sha256').update(data).digest('hex');

/** The text of a seal as edited, with a digest that fits again: what another version would have sealed. */
export function resealed(seal: string, edit: (content: string) => string): string {
  const [open = '', , ...rest] = seal.split('\n');
  const content = edit([open, ...rest].join('\n'));
  const [first = '', ...lines] = content.split('\n');
  return [first, `  "digest": "${sha256(content)}",`, ...lines].join('\n');
}

/** 18 000 pages and 308 g of waste: 17.1 g for a thousand pages, u of the mass 1/√6 g. */
export const TRIAL = `trial: Harbour Street lot 7, bench machine 2
meter: {start: 112480, end: 130480}
coverage: 5 %
waste_container: {tare: 640 g, final: 948 g}
limits: [house.yaml, {yield_at_reference: {min: 15000}}]
`;

export const HOUSE = 'waste_per_thousand: {max: 25 g}\n';
