import { type Drawing, hypergeometricAtMost } from './hypergeometric.ts';
import { keeps } from './risk.ts';
import { firstWhole } from './solve.ts';

/** So many pieces of a lot are tried; it is accepted where no more of them fail than may. */
export interface SinglePlan {
  readonly sample: number;
  /** The acceptance number: failing ones with which the lot is still accepted. */
  readonly accept: number;
}

/** A lot of some quality, and how often it may be judged wrongly. */
export interface QualityRisk {
  /** Failing pieces in the lot. */
  readonly failing: number;
  /** Between 0 and 1, both left out. */
  readonly risk: number;
}

/**
 * The smallest sample, not below `least`, for which a lot with so many failing pieces is accepted with no more than
 * its risk where up to `accept` may fail; exact (hypergeometric). `accept` is below the failing pieces.
 */
export function sampleFor(lot: number, accept: number, limiting: QualityRisk, least: number): number {
  const enough = (sample: number): boolean =>
    keeps(hypergeometricAtMost(accept, { lot, failing: limiting.failing, sample }), limiting.risk);
  // All of the lot shows its failing pieces for certain.
  return firstWhole(enough, least - 1, lot);
}

/**
 * The smallest single sample for a lot on its own: a lot with `limiting.failing` pieces is accepted with no more than
 * the consumer's risk, and, where `acceptable` is given, a lot with its failing pieces is refused with no more than the
 * producer's risk. Without `acceptable` none may fail. There is always one: all of the lot tells the two apart.
 *
 * @param limiting at least one failing piece, and more of them than `acceptable` has
 * @param least pieces to be tried at the least, one or more
 */
export function singlePlan(
  lot: number,
  limiting: QualityRisk,
  acceptable: QualityRisk | null,
  least: number,
): SinglePlan {
  let sample = Math.min(lot, least);
  for (let accept = 0; ; accept++) {
    sample = sampleFor(lot, accept, limiting, sample);
    if (acceptable === null) return { sample, accept };
    const drawing: Drawing = { lot, failing: acceptable.failing, sample };
    if (keeps(1 - hypergeometricAtMost(accept, drawing), acceptable.risk)) return { sample, accept };
  }
}

/** What is agreed of one class of pieces: too many of them, and few enough where that was agreed. */
export interface ClassRisks {
  readonly limiting: QualityRisk;
  readonly acceptable: QualityRisk | null;
}

/**
 * The smallest single sample that serves several classes of pieces at once, and the acceptance number of each class in
 * it: as many as the consumer's risk allows; none where nothing acceptable was agreed. Both risks of every class are
 * kept. The plans stand in the order of the classes, of which there is at least one, all with the same sample.
 */
export function commonPlans(
  lot: number,
  classes: readonly ClassRisks[],
  least: number,
): readonly SinglePlan[] {
  const alone = classes.map(({ limiting, acceptable }) => singlePlan(lot, limiting, acceptable, least));
  // The whole lot tells every class apart.
  for (let sample = Math.max(...alone.map((plan) => plan.sample)); ; sample++) {
    const plans = classes.flatMap(
      (one, index) => planAt(lot, sample, one, alone[index]?.accept ?? NaN) ?? [],
    );
    if (plans.length === classes.length) return plans;
  }
}

/** The plan of a class with so large a sample, `accept` being allowed by the consumer's risk; null where the producer's is not kept. */
function planAt(
  lot: number,
  sample: number,
  { limiting, acceptable }: ClassRisks,
  accept: number,
): SinglePlan | null {
  if (acceptable === null) return { sample, accept: 0 };
  const accepted = ({ failing }: QualityRisk, count: number): number =>
    hypergeometricAtMost(count, { lot, failing, sample });
  let most = accept;
  while (keeps(accepted(limiting, most + 1), limiting.risk)) most += 1;
  return keeps(1 - accepted(acceptable, most), acceptable.risk) ? { sample, accept: most } : null;
}

/** The two lines of a sequential plan over the number tried: acceptance below s·n − h₁, rejection above s·n + h₂. */
export interface SequentialLines {
  readonly h1: number;
  readonly h2: number;
  readonly slope: number;
}

/**
 * Wald's sequential plan between two shares: h₁ = ln((1 − α)/β)/k, h₂ = ln((1 − β)/α)/k, s = ln((1 − p₁)/(1 − p₂))/k
 * with k = ln(p₂(1 − p₁)/(p₁(1 − p₂))). A. Wald, Sequential Analysis (1947), in the form of the NIST/SEMATECH
 * e-Handbook, 6.2.6 (seen second-hand).
 *
 * @param good the acceptable share p₁ with the producer's risk α; @param bad the limiting share p₂ > p₁ with the
 * consumer's risk β; all between 0 and 1, both left out
 */
export function sequentialLines(
  good: { readonly share: number; readonly risk: number },
  bad: { readonly share: number; readonly risk: number },
): SequentialLines {
  const [p1, p2] = [good.share, bad.share];
  const k = Math.log((p2 * (1 - p1)) / (p1 * (1 - p2)));
  return {
    h1: Math.log((1 - good.risk) / bad.risk) / k,
    h2: Math.log((1 - bad.risk) / good.risk) / k,
    slope: Math.log((1 - p1) / (1 - p2)) / k,
  };
}

/** The most that may have failed of `tried` for the lot to be accepted there; null while none is few enough. */
export function acceptNumber({ slope, h1 }: SequentialLines, tried: number): number | null {
  const number = Math.floor(slope * tried - h1);
  return number < 0 ? null : number;
}

/** The fewest failing of `tried` with which the lot is rejected there; it may be more than were tried. */
export const rejectNumber = ({ slope, h2 }: SequentialLines, tried: number): number =>
  Math.ceil(slope * tried + h2);

/** What a rule says once so many are tried and so many of them failed. */
export type Step = 'accept' | 'reject' | 'go-on';

/** What becomes of a lot under a rule that may stop at any piece. */
export interface Course {
  /** The chance that it is accepted. */
  readonly accepted: number;
  /** Pieces tried on average. */
  readonly tried: number;
}

/** A course less likely than this is not followed further. */
const NEGLIGIBLE = 1e-18;

/**
 * What becomes of a lot with so many failing pieces whose pieces are tried in random order, one after the other, until
 * the rule decides; exact. The rule decides at the last piece of the lot at the latest.
 */
export function courseOf(
  lot: number,
  failing: number,
  rule: (tried: number, failed: number) => Step,
): Course {
  let [accepted, mean] = [0, 0];
  /** Chances of having come so far undecided, by how many failed. */
  let open = new Map([[0, 1]]);
  for (let tried = 1; tried <= lot && open.size > 0; tried++) {
    const next = new Map<number, number>();
    for (const [failed, chance] of open) {
      const fails = (failing - failed) / (lot - tried + 1);
      for (const [to, part] of [
        [failed, chance * (1 - fails)],
        [failed + 1, chance * fails],
      ] as const) {
        if (part < NEGLIGIBLE) continue;
        const step = rule(tried, to);
        if (step === 'go-on') next.set(to, (next.get(to) ?? 0) + part);
        else mean += part * tried;
        if (step === 'accept') accepted += part;
      }
    }
    open = next;
  }
  return { accepted, tried: mean };
}
