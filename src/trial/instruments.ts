import { asDecimal, type Decimal, ZERO } from '../uncertainty/decimal.ts';
import { type Input, Measured } from '../uncertainty/measured.ts';
import { dotted, type Path } from '../uncertainty/path.ts';
import type { Quantity } from './quantity.ts';
import { meanOf, scatterOf } from './repeated.ts';
import type { TrialData } from './schema/trial.ts';
import type { Reading } from './trial.ts';

type InstrumentName = keyof NonNullable<TrialData['instruments']>;

/** Instruments whose largest error is one error, common to all their readings. */
const SHARED_ERROR: ReadonlySet<InstrumentName> = new Set(['thermometer', 'hygrometer']);

const MOST_ROOTS = 1000;
const roots = new Map<number, Decimal>();

/** The square root of a variance; instruments have few resolutions, and most readings share one. */
function rootOf(variance: number): Decimal {
  const known = roots.get(variance);
  if (known !== undefined) return known;
  if (roots.size >= MOST_ROOTS) roots.clear();
  const root = asDecimal(Math.sqrt(variance));
  roots.set(variance, root);
  return root;
}

/**
 * Turns what was written into readings with uncertainty.
 *
 * A reading has u² = r²/12 + e²/3, from its resolution r and its instrument's maximum error e, both
 * rectangular (JCGM 100:2008, 4.3.7 and F.2.2.1). The resolution is one unit of the last digit written
 * unless `instruments` says otherwise. The error of a scale is independent from weighing to weighing, or with
 * `shared_error` one for all, which a difference of two weighings does not have (JCGM 100:2008, F.1.2.3); that of a thermometer or hygrometer is one input shared by all its readings. A meter is exact unless
 * `instruments` says otherwise.
 *
 * Several weighings of one thing are one reading, their mean. It has the resolution and the error of a single one,
 * undivided: neither averages out where the scale shows the same wrong figure each time. Their scatter is another
 * input beside it (`scatterOf`); what rounding there is in it counts twice, on the safe side.
 */
export class Instruments {
  private readonly readings = new Map<string, Reading>();
  private readonly shared = new Map<InstrumentName, Input>();
  /** Places of readings whose key is there and empty. */
  readonly pending: Path[] = [];

  constructor(private readonly data: TrialData['instruments']) {}

  /**
   * The reading at `path`, taken with an instrument or (null) by eye; asked for twice it is the same one, so that it
   * counts once.
   */
  read(
    name: InstrumentName | null,
    unit: string,
    path: Path,
    quantity: Quantity | null | undefined,
    offset: Decimal = ZERO,
  ): Reading {
    const key = dotted(path);
    const known = this.readings.get(key);
    if (known !== undefined) return known;
    const reading = this.take(name, unit, path, quantity, offset);
    this.readings.set(key, reading);
    return reading;
  }

  private take(
    name: InstrumentName | null,
    unit: string,
    path: Path,
    quantity: Quantity | null | undefined,
    offset: Decimal,
  ): Reading {
    if (quantity == null) {
      if (quantity === null) this.pending.push(path);
      return { path, measured: null };
    }
    const instrument = name === null ? undefined : this.data?.[name];
    const value = quantity.value.plus(offset);
    const resolution = instrument?.resolution?.value ?? (name === 'meter' ? ZERO : quantity.resolution);
    const error = instrument?.max_error?.value ?? ZERO;
    const common =
      name !== null &&
      (SHARED_ERROR.has(name) || (name === 'scale' && this.data?.scale?.shared_error === true));

    const own = common ? 0 : error.toNumber();
    const digits = resolution.toNumber() / 2;
    const variance = (digits ** 2 + own ** 2) / 3;
    const inputs: Input[] = [];
    if (variance > 0) inputs.push({ path, value, unit, u: rootOf(variance), half: Math.max(digits, own) });
    if (common && !error.isZero()) inputs.push(this.sharedError(name, unit, error));
    const { repeats } = quantity;
    if (repeats === undefined) return { path, measured: Measured.reading(value, inputs, path) };

    const u = asDecimal(scatterOf(repeats, resolution));
    inputs.push({ path, value, unit, u, readings: repeats.length });
    return { path, measured: Measured.reading(ZERO, inputs, path).plus(meanOf(repeats)), repeats };
  }

  private sharedError(name: InstrumentName, unit: string, error: Decimal): Input {
    const known = this.shared.get(name);
    if (known !== undefined) return known;
    const input: Input = {
      path: ['instruments', name, 'max_error'],
      value: ZERO,
      unit,
      u: asDecimal(error.toNumber() / Math.sqrt(3)),
      half: error.toNumber(),
    };
    this.shared.set(name, input);
    return input;
  }
}
