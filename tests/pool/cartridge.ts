import type { PooledCartridge } from '../../src/pool/cartridge.ts';
import { Decimal } from '../../src/uncertainty/decimal.ts';

/** A black cartridge run until it was exhausted, of a trial that names nothing else. */
export const cartridge = (pages: number | string, over: Partial<PooledCartridge> = {}): PooledCartridge => ({
  file: 'trial.yaml',
  machine: null,
  machineLabel: null,
  machineSerial: null,
  slot: 'black',
  lot: null,
  supplier: null,
  day: null,
  price: null,
  waste: null,
  serial: null,
  pages: new Decimal(pages),
  exhausted: true,
  failed: false,
  doubted: false,
  voided: false,
  span: null,
  coverageU: 0,
  ...over,
});
