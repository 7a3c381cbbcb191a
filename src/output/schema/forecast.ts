import * as z from 'zod';
import { count, countOr, decimalOr, head, list, text, textOr } from './parts.ts';

const FIT = 'there is no fit.';
const fit = {
  m0: decimalOr('m₀: mass used per page at zero coverage, in mg.', FIT),
  u_m0: decimalOr('Standard uncertainty of m₀, in mg.', FIT),
  m1: decimalOr('m₁: mass per page and percent of coverage, in mg per percent.', FIT),
  u_m1: decimalOr('Standard uncertainty of m₁, in mg per percent.', FIT),
  r: decimalOr('Correlation of m₀ and m₁.', FIT),
  n: count('Points of the fit.'),
  dof: countOr('Degrees of freedom.', FIT),
  floor: decimalOr('Least mass per page, below which it does not fall, in mg.', 'none.'),
  u_floor: decimalOr('Standard uncertainty of the floor, in mg.', 'none.'),
  floor_below: decimalOr('Coverage in percent below which the floor holds.', 'none.'),
  scatter: decimalOr('Relative scatter of cartridges.', 'no degrees of freedom, or no fit.'),
  coverage_least: decimalOr('Least coverage tried, in percent.', FIT),
  coverage_greatest: decimalOr('Greatest coverage tried, in percent.', FIT),
  lack_of_fit: z
    .nullable(
      z.strictObject({
        test: z.string().describe('The test.'),
        statistic: decimalOr('Its statistic.', 'it has none.'),
        dof: z.nullable(z.number()).describe('Degrees of freedom of what the line leaves. Null: none.'),
        dof_within: z.nullable(z.number()).describe('Degrees of freedom within coverages. Null: none.'),
        p: decimalOr('Its p.', 'it has none.'),
      }),
    )
    .describe('Whether a line fits. Null: it cannot be tested.'),
  points: list(
    z.strictObject({
      file: text('The trial.'),
      coverage: decimalOr('Coverage in percent.', 'not known.'),
      u_coverage: decimalOr('Its standard uncertainty, in percent.', 'not known.'),
      mass: decimalOr('Mass per page in mg.', 'not known.'),
      u_mass: decimalOr('Its standard uncertainty, in mg.', 'not known.'),
      residual: decimalOr('Mass less that of the line, in mg.', FIT),
    }),
    'The points of the fit.',
  ),
};

const estimate = (what: string) =>
  z
    .nullable(
      z.strictObject({
        value: decimalOr(what, 'not known.'),
        u: decimalOr('Standard uncertainty, in the same unit.', 'not known.'),
        lower: decimalOr('Lower end of the interval.', 'no interval.'),
        upper: decimalOr('Upper end of the interval.', 'no interval.'),
      }),
    )
    .describe(`${what} Null: not forecast; \`withheld\` says why.`);

const mixOfSlot = z.strictObject({
  slot: textOr('The slot.', 'not named.'),
  coverage: decimalOr('Mean coverage of the mix, in percent.', 'not given.'),
  u_coverage: decimalOr('Its standard uncertainty, in percent.', 'not given.'),
  yield: decimalOr('Pages a cartridge prints of this mix.', 'not forecast.'),
  lower: decimalOr('Lower end of the interval of one cartridge, in pages.', 'no interval.'),
  upper: decimalOr('Upper end of it, in pages.', 'no interval.'),
  cost_per_thousand: decimalOr('Cost per thousand pages, in `currency`.', 'no price, or not forecast.'),
  u: decimalOr('Standard uncertainty of the yield, in pages.', 'not forecast.'),
  currency: textOr('ISO 4217 code.', 'no price.'),
  toner_per_page: estimate('Toner per page, in mg.'),
  cost: estimate('Cost per thousand pages.'),
  cartridges_per_year: estimate('Cartridges a year.'),
  cost_per_year: estimate('Cost a year.'),
  beyond: z
    .nullable(
      z.strictObject({
        share: decimalOr(
          'Share of the toner on pages beyond the coverages tried, between 0 and 1.',
          'not known.',
        ),
        factor: decimalOr('How far beyond, as a factor.', 'not known.'),
      }),
    )
    .describe('Pages beyond the coverages tried. Null: there are none.'),
  withheld: textOr('Why something is not forecast, in words.', 'all is.'),
  variance: list(
    z.strictObject({
      part: text('Where it comes from.'),
      share: decimalOr('Its share of the variance, between 0 and 1.', 'there is none.'),
    }),
    'Where the uncertainty comes from.',
  ),
  next_trial: z
    .nullable(
      z.strictObject({
        coverage: decimalOr('Coverage to try next, in percent.', 'none.'),
        before: decimalOr('Half-width of the interval now, as a share.', 'none.'),
        after: decimalOr('The same after it.', 'none.'),
      }),
    )
    .describe('The trial that would narrow the interval most. Null: none would.'),
});

const side = {
  slots: list(
    z.strictObject({ slot: textOr('The slot.', 'not named.'), ...fit }),
    'Toner against coverage, slot by slot.',
  ),
  mix: z
    .nullable(z.array(mixOfSlot))
    .describe('What the mix of pages takes, slot by slot. Null: no mix is given.'),
  waste: z
    .strictObject({
      ...fit,
      mix: z
        .nullable(
          z.strictObject({
            coverage: decimalOr('Mean coverage of the mix over all slots, in percent.', 'not known.'),
            waste_per_page: estimate('Waste per page, in mg.'),
            containers_per_year: estimate('Waste containers a year.'),
            withheld: textOr('Why it is not forecast.', 'it is.'),
          }),
        )
        .describe('What the mix makes of it. Null: no mix is given.'),
    })
    .describe('Waste against coverage.'),
  stops_per_year: estimate('Machine stops a year.'),
  total: z
    .nullable(
      z.strictObject({
        currency: textOr('ISO 4217 code.', 'no prices, or several.'),
        cost_per_thousand: estimate('Cost per thousand pages of all slots.'),
        cost_per_year: estimate('Cost a year of all slots.'),
      }),
    )
    .describe('All slots together. Null: no mix is given.'),
};

/** `forecast --format json`. */
export const forecastSchema = z
  .strictObject({
    ...head(1),
    ...side,
    reference: z
      .nullable(z.strictObject(side))
      .describe('The same of the reference consumable. Null: it was not tried.'),
    pages_per_month: z.nullable(z.number()).describe('Pages a month. Null: not given.'),
    counted_by: textOr('What the mix counts its pages by.', 'no mix is given.'),
    remarks: list(z.string(), 'What to know before relying on it.'),
    left_out: list(z.string(), 'What was left out, and why.'),
  })
  .describe('Toner and waste against coverage, and what a mix of pages takes.');
export type ForecastData = z.infer<typeof forecastSchema>;
