import { asDecimal } from '../uncertainty/decimal.ts';
import { Measured, type Partial } from '../uncertainty/measured.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { ReadingsFigure } from './figure.ts';
import { A, B, magnusExponent, magnusSlope, withinMagnus } from './magnus.ts';
import { fromAmbient, pair } from './ambient.ts';

/** Temperature at which the air would be saturated, in °C, from °C and % relative humidity above 0. */
export function dewPointOf(temperature: Measured, humidity: Measured): Measured {
  const [t, percent] = [temperature.value.toNumber(), humidity.value.toNumber()];
  const gamma = Math.log(percent / 100) + magnusExponent(t);
  const rest = A - gamma;
  const perGamma = (A * B) / rest ** 2;
  const value = (B * gamma) / rest;
  const partials: Partial[] = [
    [temperature, perGamma * magnusSlope(t)],
    [humidity, perGamma / percent],
  ];
  return Measured.of(asDecimal(value), partials, value);
}

export const dewPoint: ReadingsFigure = {
  name: 'dew_point',
  title: 'dew point over water',
  unit: '°C',
  per: 'readings',
  effect: 'voids',
  formula: {
    words:
      'Temperature at which the air, over water, would begin to give off water, from each pair of temperature and humidity.',
    symbols: '243.12 γ / (17.62 − γ), γ = ln(U/100) + 17.62 t / (243.12 + t)',
  },
  source:
    'WMO-No. 8, 7th edition (2008), annex 4.B, Magnus form (second-hand, text not consulted), solved for the temperature',
  derive: (run) =>
    fromAmbient(run, (reading) => {
      const read = pair(reading);
      if (read === null) return null;
      withinMagnus(read.temperature.value, [...reading.path, 'temperature']);
      if (read.humidity.value.isZero()) {
        throw new NotDerived({
          code: 'logarithm-of-zero',
          of: 'humidity',
          path: [...reading.path, 'humidity'],
        });
      }
      return dewPointOf(read.temperature, read.humidity);
    }),
};
