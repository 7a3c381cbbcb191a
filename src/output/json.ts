import { findingsOf } from '../checks/findings.ts';
import { type Derived, isDerived } from '../figures/figure.ts';
import type { Result } from '../judge/assess.ts';
import type { Finding } from '../text/finding.ts';
import type { Judged } from '../judge/judge.ts';
import { severityOf } from '../problems/codes.ts';
import { lotOf, lotOfTrial, supplierOf } from '../trial/lot.ts';
import { lastKey } from '../uncertainty/path.ts';
import { caveatData } from './caveats.ts';
import { inColumn } from './findings.ts';
import { harmlessJson } from './harmless.ts';
import { figureValue, fullDigits } from './numbers.ts';
import { messageOf } from './words.ts';
import { reasonWords } from './reason-words.ts';

/** The format of a result in JSON; raised when a consumer would have to change. */
const FORMAT = 2;

function figureJson({ figure, of, stat, unit, result }: Derived) {
  if (!isDerived(result)) return [];
  const { value, u, bound } = result;
  return [
    {
      figure: figure.name,
      of,
      stat,
      value: figureValue(value, unit),
      unit,
      u: fullDigits(u),
      bound,
    },
  ];
}

function limitJson({ limit, derived, outcome, margin, reason }: Judged) {
  const { figure, of, stat, unit } = derived;
  return {
    figure: figure.name,
    of,
    stat,
    min: limit.min && figureValue(limit.min, unit),
    max: limit.max && figureValue(limit.max, unit),
    unit: limit.currency ?? unit,
    effect: limit.effect,
    outcome,
    margin: margin && fullDigits(margin),
    reason: reason && reasonWords(reason),
  };
}

function noteJson({ problem, place, file }: Finding, main: string) {
  const elsewhere =
    file !== main && place !== null ? `${file}:${place.line}:${place.column}: ${inColumn(place)}` : '';
  const here = file === main ? place : null;
  return {
    kind: severityOf(problem),
    code: problem.code,
    figure: 'figure' in problem ? problem.figure : null,
    of: 'of' in problem ? problem.of : null,
    key: lastKey(problem.path),
    slip: 'slip' in problem ? problem.slip : null,
    message: elsewhere + messageOf(problem),
    line: here?.line ?? null,
    column: here?.column ?? null,
  };
}

/** What was tried, where and when; nothing of a file that is no trial. */
function headData(result: Result) {
  if (result.verdict === 'invalid')
    return { trial: null, id: null, lot: null, machine: null, started: null, finished: null };
  const { data, title } = result.trial;
  const head = typeof data.trial === 'string' ? null : data.trial;
  return {
    trial: title,
    id: head?.id ?? null,
    lot: lotOfTrial(result.trial),
    machine: data.machine?.label ?? data.machine?.serial ?? null,
    started: head?.started?.text ?? null,
    finished: head?.finished?.text ?? null,
  };
}

/** Who delivered what was tried, in which machine, and each cartridge; nothing of a file that is no trial. */
function triedData(result: Result) {
  if (result.verdict === 'invalid') return { supplier: null, machine_serial: null, cartridges: [] };
  const { trial } = result;
  return {
    supplier: trial.data.lot?.supplier ?? null,
    machine_serial: trial.data.machine?.serial ?? null,
    cartridges: trial.run.cartridges.map((cartridge) => ({
      of: cartridge.name,
      slot: cartridge.slot,
      lot: lotOf(cartridge, trial),
      supplier: supplierOf(cartridge, trial),
      serial: cartridge.serial,
      price: cartridge.price && fullDigits(cartridge.price.amount),
      currency: cartridge.price?.currency ?? null,
    })),
  };
}

/** One result as data: numbers with uncertainty are decimal strings, counts and places are numbers. */
export function resultData(result: Result, tool: string) {
  const valid = result.verdict !== 'invalid';
  return {
    format: FORMAT,
    tool,
    file: result.file,
    ...headData(result),
    verdict: result.verdict,
    ground: valid && result.ground !== 'all-met' ? result.ground : null,
    caveats: caveatData(result),
    figures: valid ? result.derived.flatMap(figureJson) : [],
    limits: valid ? result.judged.map(limitJson) : [],
    notes: findingsOf(result).map((finding) => noteJson(finding, result.file)),
    ...triedData(result),
  };
}

/** One result as a JSON object on several lines, without a line break behind it. */
export const jsonObject = (result: Result, tool: string): string => harmlessJson(resultData(result, tool), 2);

/** One result in one line. */
export const jsonLine = (result: Result, tool: string): string =>
  `${harmlessJson(resultData(result, tool))}\n`;
