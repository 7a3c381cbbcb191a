import type { Layout } from '../statistics/claim-power.ts';
import type { Plan } from '../plan/plan.ts';
import { valueOf } from '../plan/planned.ts';
import { type Cell, csv } from './csv.ts';
import { harmlessJson } from './harmless.ts';
import { digitsOrNull as digits } from './numbers.ts';
import type { PlanData } from './schema/plan.ts';
import { lotRows } from './plan-lot.ts';

/** A plan for other programs: JSON and CSV. What cannot be planned is null, or has no row. */

/** The format of a plan in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

/** Counts, reams, days and checkpoints are numbers; masses and hours decimal strings. */
export function planJson(plan: Plan, tool: string): string {
  const cartridges = plan.slots.map(({ slot, cartridges }) => [slot ?? '', valueOf(cartridges)] as const);
  const data: PlanData = {
    format: FORMAT,
    tool,
    sheets: valueOf(plan.sheets)?.toNumber() ?? null,
    reams: valueOf(plan.reams),
    paper_mass: digits(valueOf(plan.paperMass)),
    hours: digits(valueOf(plan.hours)),
    days: valueOf(plan.days),
    containers: valueOf(plan.containers),
    cartridges: Object.fromEntries(cartridges),
    checkpoints: (valueOf(plan.checkpoints) ?? []).map(({ batch, end }) => ({
      batch,
      end: end?.toNumber() ?? null,
    })),
    replicates: plan.replicates.needed,
    layouts: layoutsOf(plan).map(({ machines, each }) => ({
      machines,
      each,
      cartridges: machines * each,
    })),
  };
  return `${harmlessJson(data, 2)}\n`;
}

/** What supports the claim; nothing where none is made or none would do. */
const layoutsOf = ({ replicates: { claim } }: Plan): readonly Layout[] => (claim && valueOf(claim)) ?? [];

/** One row for everything planned: what, of which part, how much, in which unit. */
export function planCsv(plan: Plan): string {
  const { replicates, scale } = plan;
  const rows: [string, Cell, Cell, string][] = [
    ['pages', null, digits(valueOf(plan.pages)), 'page'],
    ['sheets', null, digits(valueOf(plan.sheets)), 'sheet'],
    ['reams', null, valueOf(plan.reams), 'ream'],
    ['paper_mass', null, digits(valueOf(plan.paperMass)), 'kg'],
    ['hours', null, digits(valueOf(plan.hours)), 'h'],
    ['days', null, valueOf(plan.days), 'd'],
    ['last_day', null, valueOf(plan.lastDay), ''],
    ...plan.slots.flatMap(({ slot, cartridges, toner }): [string, Cell, Cell, string][] => [
      ['cartridges', slot, valueOf(cartridges), '1'],
      ['toner', slot, digits(valueOf(toner)), 'g'],
    ]),
    ['waste_mass', null, digits(valueOf(plan.waste)), 'g'],
    ['containers', null, valueOf(plan.containers), '1'],
    ...plan.worn.map(({ part, at }): [string, Cell, Cell, string] => [
      'part_reaches_life',
      part,
      at?.toFixed() ?? null,
      'meter',
    ]),
    ...plan.lapsed.map(({ instrument, until }): [string, Cell, Cell, string] => [
      'calibration_ends',
      instrument,
      until,
      '',
    ]),
    ['scale_resolution', null, digits('value' in scale ? scale.value.resolution : null), 'g'],
    ['replicates', null, replicates.needed, '1'],
    ...layoutsOf(plan).map(({ machines, each }): [string, Cell, Cell, string] => [
      'cartridges_to_support_claim',
      `${machines} machines`,
      machines * each,
      '1',
    ]),
    ...replicates.failing.flatMap(({ share, sizes }) =>
      sizes.map((size, failed): [string, Cell, Cell, string] => [
        'to_show_failing_share',
        `${share.toFixed()} %, ${failed} failed`,
        size,
        '1',
      ]),
    ),
    ...lotRows(plan),
    ...(valueOf(plan.checkpoints) ?? []).map(({ batch, end }): [string, Cell, Cell, string] => [
      'checkpoint',
      batch,
      end?.toFixed() ?? null,
      'meter',
    ]),
  ];
  return csv(
    ['item', 'of', 'value', 'unit'],
    rows.filter(([, , value]) => value !== null),
  );
}
