import type { PooledCartridge } from './cartridge.ts';

/** Names over several trials that can hardly all be right; how many machines there are hangs on them. */
export type OddName =
  | { readonly kind: 'labels'; readonly serial: string; readonly labels: readonly string[] }
  | { readonly kind: 'serials'; readonly label: string; readonly serials: readonly (string | null)[] }
  | { readonly kind: 'slots'; readonly serial: string; readonly slots: readonly string[] };

/** Machines of two labels or two serials, and cartridges of one serial in two slots; in the order they were met. */
export function oddNames(cartridges: readonly PooledCartridge[]): OddName[] {
  const labels = new Map<string, Set<string>>();
  const serials = new Map<string, Set<string | null>>();
  const slots = new Map<string, Set<string>>();
  for (const { machineLabel, machineSerial, serial, slot } of cartridges) {
    if (machineSerial !== null && machineLabel !== null) add(labels, machineSerial, machineLabel);
    if (machineLabel !== null) add(serials, machineLabel, machineSerial);
    if (serial !== null && slot !== null) add(slots, serial, slot);
  }
  return [
    ...several(labels).map(([serial, of]): OddName => ({ kind: 'labels', serial, labels: of })),
    ...several(serials).map(([label, of]): OddName => ({ kind: 'serials', label, serials: of })),
    ...several(slots).map(([serial, of]): OddName => ({ kind: 'slots', serial, slots: of })),
  ];
}

function add<T>(to: Map<string, Set<T>>, key: string, value: T): void {
  const known = to.get(key);
  if (known === undefined) to.set(key, new Set([value]));
  else known.add(value);
}

const several = <T>(of: ReadonlyMap<string, ReadonlySet<T>>): [string, T[]][] =>
  [...of].flatMap(([key, values]): [string, T[]][] => (values.size > 1 ? [[key, [...values]]] : []));
