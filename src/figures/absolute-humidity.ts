import { asDecimal } from '../uncertainty/decimal.ts';
import { Measured, type Partial } from '../uncertainty/measured.ts';
import type { ReadingsFigure } from './figure.ts';
import { FORMULA, magnusSlope, saturationPressure, withinMagnus } from './magnus.ts';
import { fromAmbient, pair } from './ambient.ts';

/** Specific gas constant of water vapour, in J/(kg K). */
const VAPOUR_CONSTANT = 461.5;

/** Mass of water vapour in the air, in g/m³, from °C and % relative humidity. */
export function absoluteHumidityOf(temperature: Measured, humidity: Measured): Measured {
  const t = temperature.value.toNumber();
  const kelvin = t + 273.15;
  const perPercent = (saturationPressure(t) * 1000) / (VAPOUR_CONSTANT * kelvin);
  const value = perPercent * humidity.value.toNumber();
  const partials: Partial[] = [
    [temperature, value * (magnusSlope(t) - 1 / kelvin)],
    [humidity, perPercent],
    [FORMULA, value],
  ];
  return Measured.of(asDecimal(value), partials, value);
}

export const absoluteHumidity: ReadingsFigure = {
  name: 'absolute_humidity',
  title: 'absolute humidity',
  unit: 'g/m³',
  per: 'readings',
  effect: 'voids',
  formula: {
    words: 'Water vapour in a cubic metre of the air, from each pair of temperature and humidity.',
    symbols: '100000 × e / (461.5 × (t + 273.15)), e = U/100 × 6.112 × exp(17.62 t / (243.12 + t)) hPa',
  },
  source:
    'WMO-No. 8, 7th edition (2008), annex 4.B, Magnus form (second-hand, text not consulted); gas law with 461.5 J/(kg K) for water vapour (from memory)',
  derive: (run) =>
    fromAmbient(run, (reading) => {
      const read = pair(reading);
      if (read === null) return null;
      withinMagnus(read.temperature.value, [...reading.path, 'temperature']);
      return absoluteHumidityOf(read.temperature, read.humidity);
    }),
};
