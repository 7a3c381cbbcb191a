import { Measured } from '../uncertainty/measured.ts';
import { asDecimal, ONE } from '../uncertainty/decimal.ts';
import { NotDerived } from '../uncertainty/not-derived.ts';
import type { ReadingsFigure } from './figure.ts';
import { A, B, magnusExponent, magnusSlope, withinMagnus } from './magnus.ts';
import { fromRoom, pair } from './room.ts';

/** Temperature at which the air would be saturated, in °C, from °C and % relative humidity above 0. */
export function dewPointOf(temperature: Measured, humidity: Measured): Measured {
  const gamma = asDecimal(Math.log(humidity.value.div(100).toNumber())).plus(
    magnusExponent(temperature.value),
  );
  const rest = A.minus(gamma);
  const perGamma = A.times(B).div(rest.times(rest));
  return Measured.of(B.times(gamma).div(rest), [
    [temperature, perGamma.times(magnusSlope(temperature.value))],
    [humidity, perGamma.times(ONE.div(humidity.value))],
  ]);
}

export const dewPoint: ReadingsFigure = {
  name: 'dew_point',
  title: 'dew point',
  unit: '°C',
  per: 'readings',
  weight: 'condition',
  formula: {
    words:
      'Temperature at which the room’s air would begin to shed water, from each pair of temperature and humidity.',
    symbols: '243.12 γ / (17.62 − γ), γ = ln(U/100) + 17.62 t / (243.12 + t)',
  },
  source: 'WMO-No. 8 (2008), Magnus form, solved for the temperature',
  derive: (run) =>
    fromRoom(run, (reading) => {
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
