/**
 * A trial whose readings agree, as lines by their top-level key; tests change some of them. 24,000 pages in six
 * batches of 4,000 with 76 g of waste each: 19 g for a thousand. Invented.
 */
const BASE: Readonly<Record<string, string>> = {
  trial: '{title: Poplar Walk lot 12, started: 2026-05-04, finished: 2026-05-08}',
  meter: '{start: 51200, end: 75200}',
  coverage: '5 %',
  batches: [
    '[{end: 55200, container_mass: 702}',
    '{end: 59200, container_mass: 778}',
    '{end: 63200, container_mass: 854}',
    '{end: 67200, container_mass: 930}',
    '{end: 71200, container_mass: 1006}]',
  ].join(', '),
  waste_container: '{tare: 626, final: 1082, capacity: 600}',
  cartridges: '[{slot: black, start_mass: 1612, end_mass: 542, fill_mass: 1100, residual_mass: 20}]',
  ambient:
    '[{at: 2026-05-04T09:00, temperature: 21.5, humidity: 46}, {at: 2026-05-07T15:00, temperature: 22.5, humidity: 44}]',
  events: '[{at: 60100, kind: jam}]',
  inspection: '[{stage: after, part: fuser, severity: none}]',
  target: '{pages: 24000, batch: 4000}',
  limits:
    '{waste_per_thousand: {max: 25}, toner_per_page: {max: 60}, failed_cartridges: {max: 0}, worst_finding: {max: minor}}',
};

/** The base trial with some of its keys changed; null takes one out. */
export function trialWith(changes: Readonly<Record<string, string | null>> = {}): string {
  const lines = { ...BASE, ...changes };
  return Object.entries(lines)
    .flatMap(([key, value]) => (value === null ? [] : [`${key}: ${value}\n`]))
    .join('');
}

/** The batches of the base trial with other meters or masses; a mass of null was not weighed. */
export const batchesOf = (...batches: readonly (readonly [end: number, mass: number | null])[]): string =>
  `[${batches.map(([end, mass]) => (mass === null ? `{end: ${end}}` : `{end: ${end}, container_mass: ${mass}}`)).join(', ')}]`;
