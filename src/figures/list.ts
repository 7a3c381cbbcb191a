import type { Catalogue } from '../trial/catalogue.ts';
import { absoluteHumidity } from './absolute-humidity.ts';
import { containerLife } from './container-life.ts';
import { dewPoint } from './dew-point.ts';
import { entryOf, type Figure } from './figure.ts';
import { humidity } from './humidity.ts';
import { pages } from './pages.ts';
import { paperMass } from './paper-mass.ts';
import { sheets } from './sheets.ts';
import { temperature } from './temperature.ts';
import { wasteMass } from './waste-mass.ts';
import { wastePerThousand } from './waste-per-thousand.ts';
import { yieldAtReference } from './yield-at-reference.ts';
import { yieldToRating } from './yield-to-rating.ts';
import { cartridgeYield } from './yield.ts';

/** Every figure, in the order it is shown. Limits, stated figures and outputs all follow this list. */
export const FIGURES: readonly Figure[] = [
  pages,
  sheets,
  paperMass,
  wasteMass,
  wastePerThousand,
  containerLife,
  cartridgeYield,
  yieldAtReference,
  yieldToRating,
  temperature,
  humidity,
  absoluteHumidity,
  dewPoint,
];

/** The same list as the trial file's format needs it. */
export const CATALOGUE: Catalogue = FIGURES.map(entryOf);
