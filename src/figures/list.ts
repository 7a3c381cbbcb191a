import type { Catalogue } from '../trial/catalogue.ts';
import { absoluteHumidity } from './absolute-humidity.ts';
import { background } from './background.ts';
import { colourDifference } from './colour-difference.ts';
import { colourToReference } from './colour-to-reference.ts';
import { containerLife } from './container-life.ts';
import { costPerThousand } from './cost-per-thousand.ts';
import { densityChange } from './density-change.ts';
import { densityToReference } from './density-to-reference.ts';
import { dewPoint } from './dew-point.ts';
import { failedCartridges } from './failed-cartridges.ts';
import { fixing } from './fixing.ts';
import { glossChange } from './gloss-change.ts';
import { glossToReference } from './gloss-to-reference.ts';
import { humidity } from './humidity.ts';
import { jamsPerThousand } from './jams-per-thousand.ts';
import { pages } from './pages.ts';
import { paperMass } from './paper-mass.ts';
import { projectedYield } from './projected-yield.ts';
import { projectedYieldAtReference } from './projected-yield-at-reference.ts';
import { registration } from './registration.ts';
import { sheets } from './sheets.ts';
import { stopsPerThousand } from './stops-per-thousand.ts';
import { temperature } from './temperature.ts';
import { tonerPerPage } from './toner-per-page.ts';
import { tonerUsed } from './toner-used.ts';
import { transferredFraction } from './transferred-fraction.ts';
import { usagePerArea } from './usage-per-area.ts';
import { usageRatio } from './usage-ratio.ts';
import { wasteFraction } from './waste-fraction.ts';
import { wasteMass } from './waste-mass.ts';
import { wastePerThousand } from './waste-per-thousand.ts';
import { wasteRatio } from './waste-ratio.ts';
import { worstFinding } from './worst-finding.ts';
import { worstPrint } from './worst-print.ts';
import { cartridgeYield } from './yield.ts';
import { yieldAtReference } from './yield-at-reference.ts';
import { yieldRatio } from './yield-ratio.ts';
import { yieldToRating } from './yield-to-rating.ts';
import { entryOf, type Figure } from './figure.ts';

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
  tonerUsed,
  tonerPerPage,
  projectedYield,
  projectedYieldAtReference,
  usagePerArea,
  wasteFraction,
  transferredFraction,
  temperature,
  humidity,
  absoluteHumidity,
  dewPoint,
  jamsPerThousand,
  stopsPerThousand,
  failedCartridges,
  densityChange,
  colourDifference,
  glossChange,
  densityToReference,
  colourToReference,
  glossToReference,
  background,
  fixing,
  registration,
  wasteRatio,
  usageRatio,
  yieldRatio,
  costPerThousand,
  worstFinding,
  worstPrint,
];

/** The same list as the trial file's format needs it. */
export const CATALOGUE: Catalogue = FIGURES.map(entryOf);
