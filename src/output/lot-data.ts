import type { JudgedLot } from '../lot/judged-lot.ts';
import { numbersAt } from '../lot/rule.ts';
import { CLASSES, type Quality, shareOf } from '../lot/terms.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { type Cell, csv } from './csv.ts';
import { harmlessJson } from './harmless.ts';
import { lotRemarks, whyWords } from './lot-words.ts';
import { fullDigits } from './numbers.ts';

/** A judged lot for other programs: JSON and CSV. */

/** The format of a lot in JSON; raised when a consumer would have to change. */
const FORMAT = 1;

const digits = (value: number): string => fullDigits(asDecimal(value));

const qualityData = ({ share, failing, risk }: Quality) => ({
  share: fullDigits(share),
  failing,
  risk: fullDigits(risk),
});

function planData({ decided, counted }: JudgedLot) {
  if (decided === null) return null;
  const { rule } = decided;
  if (rule.kind === 'single') return rule.plan;
  const { h1, h2, slope } = rule.lines;
  return {
    h1: digits(h1),
    h2: digits(h2),
    slope: digits(slope),
    ...numbersAt(rule, counted),
  };
}

/** Counts are numbers, shares and risks decimal strings in percent. */
function lotData(judged: JudgedLot, tool: string) {
  const { lot, size, decided, decision, tried, counted, failed, confidence } = judged;
  const { limiting, acceptable } = decided?.terms ?? { limiting: null, acceptable: null };
  return {
    format: FORMAT,
    tool,
    lot: lot.id,
    supplier: lot.supplier,
    size,
    rule: decided?.rule.kind ?? null,
    limiting_quality: limiting && qualityData(limiting),
    acceptable_quality: acceptable && qualityData(acceptable),
    plan: planData(judged),
    tried: counted,
    failed,
    said_nothing: tried.length - counted,
    decision,
    by_trials: decided && judged.byTrials,
    next: decided?.next ?? null,
    most_failing: judged.mostFailing,
    largest_share: fullDigits(shareOf(judged.mostFailing, size)),
    confidence: fullDigits(confidence),
    cartridges: tried.map((one) => ({
      file: one.file,
      cartridge: one.name,
      serial: one.serial,
      machine: one.machine,
      day: one.day,
      said: one.said,
      why: whyWords(one),
    })),
    remarks: lotRemarks(judged),
    inspection: inspectionData(judged),
  };
}

/** What was found on delivery; null where nothing was looked at, and nothing agreed of it. */
function inspectionData({ inspection, size }: JudgedLot) {
  if (inspection === null) return null;
  const { inspected, found, classes, decision } = inspection;
  return {
    inspected: inspected.length,
    ...found,
    decision,
    classes: classes.map((one) => ({
      severity: one.of,
      counts: one.counts,
      limiting_quality: qualityData(one.terms.limiting),
      acceptable_quality: one.terms.acceptable && qualityData(one.terms.acceptable),
      plan: one.rule.plan,
      found: one.found,
      decision: one.decision,
      next: one.next,
      most_failing: one.mostFailing,
      largest_share: fullDigits(shareOf(one.mostFailing, size)),
      confidence: fullDigits(one.confidence),
    })),
    cartridges: inspected.map(({ file, name, serial, severity, note }) => ({
      file,
      cartridge: name,
      serial,
      severity,
      note,
    })),
  };
}

export const lotJson = (judged: JudgedLot, tool: string): string =>
  `${harmlessJson(lotData(judged, tool), 2)}\n`;

/** One row for the lot, so that lots can be put below each other. */
export function lotCsv(judged: JudgedLot): string {
  const data = lotData(judged, '');
  const single = judged.decided?.rule.kind === 'single' ? judged.decided.rule.plan : null;
  const row: readonly (readonly [head: string, cell: Cell])[] = [
    ['lot', data.lot],
    ['supplier', data.supplier],
    ['size', data.size],
    ['rule', data.rule],
    ['limiting_quality', data.limiting_quality?.share ?? null],
    ['consumer_risk', data.limiting_quality?.risk ?? null],
    ['acceptable_quality', data.acceptable_quality?.share ?? null],
    ['producer_risk', data.acceptable_quality?.risk ?? null],
    ['plan_sample', single?.sample ?? null],
    ['plan_accept', single?.accept ?? null],
    ['tried', data.tried],
    ['failed', data.failed],
    ['said_nothing', data.said_nothing],
    ['decision', data.decision],
    ['next_passes', data.next?.passes ?? null],
    ['next_failures', data.next?.failures ?? null],
    ['most_failing', data.most_failing],
    ['largest_share', data.largest_share],
    ['confidence', data.confidence],
    ['by_trials', data.by_trials],
    ['inspected', data.inspection?.inspected ?? null],
    ['inspection_decision', data.inspection?.decision ?? null],
    ...CLASSES.flatMap((of): (readonly [string, Cell])[] => {
      const one = data.inspection?.classes.find(({ severity }) => severity === of);
      return [
        [`${of}_found`, data.inspection?.[of] ?? null],
        [`${of}_sample`, one?.plan.sample ?? null],
        [`${of}_accept`, one?.plan.accept ?? null],
        [`${of}_decision`, one?.decision ?? null],
      ];
    }),
  ];
  return csv(
    row.map(([head]) => head),
    [row.map(([, cell]) => cell)],
  );
}
