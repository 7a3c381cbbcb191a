import type { Assessed } from '../judge/assess.ts';
import { isDerived } from '../figures/figure.ts';
import { cartridgesOf } from '../pool/cartridge.ts';
import { timeOf } from '../pool/trend.ts';
import { lotOf, supplierOf } from '../trial/lot.ts';
import type { Cartridge } from '../trial/trial.ts';
import { caveatData } from './caveats.ts';
import { type Cell, csvLine } from './csv.ts';
import { harmlessJson } from './harmless.ts';
import { digitsOrNull, fullDigits } from './numbers.ts';
import { reasonWords } from './reason-words.ts';

/** Every cartridge of a judged trial, for tables over many: JSON Lines and CSV. */

/** A cartridge and what its trial says; keys are the heads of the table. */
function cartridgeData(cartridge: Cartridge, result: Assessed, leftOut: string | null) {
  const { trial, derived, verdict, ground } = result;
  const { data } = trial;
  const head = typeof data.trial === 'string' ? null : data.trial;
  const figure = (name: string, of: string | null) => {
    const found = derived.find(
      (one) => one.figure.name === name && one.of === of && one.stat === null,
    )?.result;
    return found !== undefined && isDerived(found) ? found : null;
  };
  const pages = figure('yield_at_reference', cartridge.name);
  return {
    file: result.file,
    trial: trial.title,
    id: head?.id ?? null,
    started: head?.started?.text ?? null,
    finished: head?.finished?.text ?? null,
    day: timeOf(result)?.day ?? null,
    lot: lotOf(cartridge, trial),
    supplier: supplierOf(cartridge, trial),
    machine: data.machine?.label ?? null,
    machine_serial: data.machine?.serial ?? null,
    slot: cartridge.slot,
    of: cartridge.name,
    serial: cartridge.serial,
    price: cartridge.price && fullDigits(cartridge.price.amount),
    currency: cartridge.price?.currency ?? null,
    yield_at_reference: digitsOrNull(pages?.value),
    u: digitsOrNull(pages?.u),
    bound: pages?.bound ?? null,
    failed: cartridge.failed,
    left_out: leftOut,
    waste_per_thousand: digitsOrNull(figure('waste_per_thousand', null)?.value),
    verdict,
    ground: ground === 'all-met' ? null : ground,
    caveats: caveatData(result).map(({ message }) => message),
  };
}

/** What is told of one cartridge. */
export type CartridgeData = ReturnType<typeof cartridgeData>;

/** The cartridges of a trial; where one is not pooled, `left_out` says why. */
export function cartridgesData(result: Assessed): CartridgeData[] {
  const { leftOut } = cartridgesOf(result);
  return result.trial.run.cartridges.map((cartridge) => {
    const why = leftOut.find(({ name }) => name === cartridge.name);
    return cartridgeData(cartridge, result, why ? reasonWords(why.reason) : null);
  });
}

/** A cartridge in one line of JSON. */
export const cartridgeLine = (data: CartridgeData, tool: string): string =>
  `${harmlessJson({ format: 1, tool, ...data })}\n`;

const HEADS = [
  ...['file', 'trial', 'id', 'started', 'finished', 'day', 'lot', 'supplier', 'machine', 'machine_serial'],
  ...['slot', 'of', 'serial', 'price', 'currency', 'yield_at_reference', 'u', 'bound', 'failed', 'left_out'],
  ...['waste_per_thousand', 'verdict', 'ground', 'caveats'],
] as const satisfies readonly (keyof CartridgeData)[];

/** The line of heads of the table of cartridges. */
export const cartridgeHeads = (): string => csvLine(HEADS);

/** A cartridge as a row of the table. */
export const cartridgeRow = (data: CartridgeData): string =>
  csvLine(HEADS.map((head): Cell => (head === 'caveats' ? data.caveats.join(' ') : data[head])));
