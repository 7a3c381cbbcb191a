import { asDecimal, Decimal } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { Path } from '../uncertainty/path.ts';
import type { SeverityWord } from '../trial/schema/severities.ts';
import type { TrialData } from '../trial/schema/trial.ts';

/** A share of failing cartridges that was agreed, what it comes to in this lot, and the risk that goes with it. */
export interface Quality {
  /** % of the lot */
  readonly share: Decimal;
  /** Cartridges of the lot. */
  readonly failing: number;
  /** % */
  readonly risk: Decimal;
}

/** On which terms a lot is taken. */
export interface Terms {
  /** Cartridges in the lot. */
  readonly size: number;
  /** So many failing ones, or more, are too many; the risk is the consumer's. */
  readonly limiting: Quality;
  /** So many are taken; the risk is the producer's. Null where nothing was agreed. */
  readonly acceptable: Quality | null;
}

/** Shares and risks as they were agreed, in percent; null where they were not. */
export interface Agreement {
  readonly limitingQuality: Decimal | null;
  readonly consumerRisk: Decimal | null;
  readonly acceptableQuality: Decimal | null;
  readonly producerRisk: Decimal | null;
}

export const NOTHING_AGREED: Agreement = {
  limitingQuality: null,
  consumerRisk: null,
  acceptableQuality: null,
  producerRisk: null,
};

/** Unless another was agreed, in percent. */
export const CONSUMER_RISK = new Decimal(10);
const PRODUCER_RISK = new Decimal(5);

/** More cartridges than any lot has. */
export const LARGEST_LOT = 100_000;
/** One cartridge is no lot. */
export const SMALLEST_LOT = 2;

/** The classes a cartridge may fall into on delivery, by the worst finding on it. */
export const CLASSES = ['critical', 'major', 'minor'] as const satisfies readonly SeverityWord[];
export type FindingClass = (typeof CLASSES)[number];

/** What a trial says was agreed of its lot: of cartridges that fail, or of those of a class of findings. */
export function agreementOf({ target }: TrialData, of: FindingClass | null = null): Agreement {
  const agreed = of === null ? target?.lot : target?.lot?.inspection?.[of];
  return {
    limitingQuality: agreed?.limiting_quality?.value ?? null,
    consumerRisk: agreed?.consumer_risk?.value ?? null,
    acceptableQuality: agreed?.acceptable_quality?.value ?? null,
    producerRisk: agreed?.producer_risk?.value ?? null,
  };
}

/** What was agreed of each class of findings on delivery. */
export type AgreedOfFindings = Readonly<Record<FindingClass, Agreement>>;

export const agreedOfFindings = (data: TrialData): AgreedOfFindings => ({
  critical: agreementOf(data, 'critical'),
  major: agreementOf(data, 'major'),
  minor: agreementOf(data, 'minor'),
});

/** Where it stands in a trial what was agreed. */
export const agreedAt = (of: FindingClass | null): Path =>
  of === null ? ['target', 'lot'] : ['target', 'lot', 'inspection', of];

/**
 * The terms of a lot of so many cartridges: the limiting quality is reached by the next whole cartridge above its
 * share, the acceptable one kept by the next below. @throws NotDerived where they are no terms
 */
export function termsOf(size: number, agreement: Agreement, of: FindingClass | null = null): Terms {
  const { limitingQuality, acceptableQuality } = agreement;
  if (size < SMALLEST_LOT || size > LARGEST_LOT) {
    const range = `${SMALLEST_LOT} to ${LARGEST_LOT} cartridges`;
    throw new NotDerived({ code: 'outside-formula', path: ['lot', 'size'], range });
  }
  if (limitingQuality === null)
    throw new NotDerived({ code: 'not-given', path: [...agreedAt(of), 'limiting_quality'] });
  const limiting: Quality = {
    share: limitingQuality,
    failing: limitingQuality.times(size).div(100).ceil().toNumber(),
    risk: agreement.consumerRisk ?? CONSUMER_RISK,
  };
  if (acceptableQuality === null) return { size, limiting, acceptable: null };
  const acceptable: Quality = {
    share: acceptableQuality,
    failing: acceptableQuality.times(size).div(100).floor().toNumber(),
    risk: agreement.producerRisk ?? PRODUCER_RISK,
  };
  if (acceptable.share.gte(limiting.share) || acceptable.failing >= limiting.failing)
    throw new NotDerived({ code: 'qualities-too-close', path: [...agreedAt(of), 'acceptable_quality'] });
  return { size, limiting, acceptable };
}

/** A percentage as a probability. */
export const probability = (percent: Decimal): number => percent.div(100).toNumber();

/** So many of all, in percent. */
export const shareOf = (count: number, size: number): Decimal => asDecimal(count).times(100).div(size);
