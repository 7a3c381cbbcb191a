import { type Estimate, type Part, studentFactor } from '../forecast/estimate.ts';
import { atSeveralCoverages, FEWEST_FOR_FLOOR, type Fit, sameAtOneCoverage } from '../forecast/fit.ts';
import type { ForecastResult, SideResult, SlotResult, Withheld } from '../forecast/forecast.ts';
import type { InkFault } from '../forecast/ink-pages.ts';
import type { LeftOut, Mixture } from '../forecast/tried.ts';
import type { Beyond } from '../forecast/usage.ts';
import { asDecimal } from '../uncertainty/decimal.ts';
import { shown, shownBeside } from './numbers.ts';
import { reasonWords } from './reason-words.ts';
import { list } from './words/said.ts';

/** What a forecast says in sentences; the same in every output. */

/** A number to so many significant digits, without an exponent. */
export const digits = (value: number, significant: number): string =>
  asDecimal(value).toSignificantDigits(significant).toFixed();

/** A percentage of the page as people say it. */
export const percentWords = (value: number): string => `${digits(value, 3)} %`;

/** A number with its U, as far as that goes. */
export function withHalfWidth(value: number, U: number): string {
  const { value: told, U: half } = shown(asDecimal(value), asDecimal(U));
  return half === '' ? told : `${told} ± ${half}`;
}

/** What is forecast: a number with its U; of a count its mean, to a tenth: the interval says the rest. */
export const valueWords = ({ value, U, whole }: Estimate): string =>
  whole === true ? String(Number(value.toFixed(1))) : withHalfWidth(value, U);

/** An end of the interval of a forecast, to the place of its U; of a count a whole number. */
export const endWords =
  ({ U, whole }: Estimate) =>
  (end: number): string =>
    whole === true ? end.toFixed(0) : shownBeside(asDecimal(end), asDecimal(U));

export const slotWords = (slot: string | null): string => slot ?? 'the cartridge';

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** No more names than a sentence bears. */
function few(names: readonly string[]): string {
  const most = 4;
  return names.length <= most
    ? list(names, 'and')
    : `${names.slice(0, most - 1).join(', ')} and ${names.length - most + 1} more`;
}

const share = (of: number): string => percentWords(100 * of);

/** Why there is no forecast. */
export function withheldWords(why: Withheld): string {
  switch (why.code) {
    case 'no-line':
      return why.coverages.length === 0
        ? 'no trial gives a point'
        : `tried at ${list(why.coverages.map(percentWords), 'and')} only; a line takes two coverages`;
    case 'no-coverage':
      return `the mix gives no coverage for ${few(why.kinds)}; write 0 % where there is none`;
    case 'beyond':
      return `${beyondWords(why.beyond)} beyond the ${percentWords(why.least)} to ${percentWords(why.greatest)} tried: try such a page too, or give --beyond, which multiplies the uncertainty by ${digits(why.beyond.factor, 3)}`;
    case 'nothing-used':
      return 'the line says nothing above zero there; look at the trials';
    case 'no-fill':
      return 'no trial says how much toner a cartridge holds: give fill_mass, or weigh one until exhausted';
    case 'no-price':
      return 'no trial gives a price';
    case 'prices-differ':
      return `the trials give several prices (${few(why.prices)}); give one`;
    case 'no-events':
      return 'no trial says what happened during its run; give events, [] where nothing did';
    case 'no-capacity':
      return 'no trial gives the capacity of the waste container';
    case 'capacities-differ':
      return `the trials give several capacities (${few(why.capacities.map((one) => `${digits(one, 5)} g`))})`;
    case 'slot-missing':
      return `no cost for ${few(why.slots.map(slotWords))}`;
  }
}

export function beyondWords({ share: of, kinds }: Beyond): string {
  const verb = kinds.length === 1 ? 'lies' : 'lie';
  return `${few(kinds)} (${share(of)} of the pages) ${verb}`;
}

/** Why a cartridge gives no point. */
export const leftOutWords = ({ file, name, reason }: LeftOut): string =>
  `${file}${name === null ? '' : `, ${name}`}: ${reason.code === 'failed' ? 'it failed' : reasonWords(reason)}`;

/** What a part of an uncertainty is, in a sentence. */
export const PARTS: Readonly<Record<Part, string>> = {
  readings: 'the weighings of the trials',
  'cartridges-tried': 'how few cartridges were tried',
  'coverages-tried': 'the coverage of the pages tried',
  'coverage-of-mix': 'the coverage of the mix',
  'next-cartridge': 'the scatter from cartridge to cartridge',
  'usable-toner': 'how much toner a cartridge gives',
};

/** What would mend a part where no further trial does. */
const MENDS: Partial<Readonly<Record<Part, string>>> = {
  'coverages-tried': 'Measure the coverage of the test pages.',
  'coverage-of-mix': 'Measure the customer’s pages.',
  'usable-toner': 'Weigh more cartridges until exhausted.',
};

/** A trial that leaves more than this of the uncertainty is not worth its toner. */
const WORTHWHILE = 0.95;

/** Which part is the largest, and which trial would do most. */
export function dominatesWords({ mix }: SlotResult): string | null {
  const [largest] = mix?.parts ?? [];
  if (!mix || largest === undefined) return null;
  const whole = mix.parts.reduce((sum, { variance }) => sum + variance, 0);
  const most = `Most of the uncertainty (${Math.round((100 * largest.variance) / whole)} % of the variance) is ${PARTS[largest.part]}.`;
  const mend = MENDS[largest.part];
  const { next } = mix;
  const half = (U: number): string => shown(asDecimal(U), asDecimal(U)).U;
  const trial = mix.beyond
    ? ' A trial of pages like those beyond would do most.'
    : next === null
      ? ''
      : next.after > WORTHWHILE * next.before
        ? ' No one trial more would make the toner a page much better known.'
        : ` One more cartridge at ${percentWords(next.coverage)} would bring the toner a page from ± ${half(next.before)} to ± ${half(next.after)} mg; none at another coverage tried would do more.`;
  return `${most}${mend === undefined ? '' : ` ${mend}`}${trial}`;
}

/** Whether the points lie on the model. */
export function lackOfFitWords({ lackOfFit: lack, levels, floor }: Fit): string {
  const needed = floor === null ? 3 : 4;
  if (lack === null)
    return levels.length < needed
      ? `not tested: it takes ${needed === 3 ? 'three' : 'four'} coverages${needed === 3 ? '' : ' with a floor'}`
      : 'not tested: points at one coverage are alike';
  const { test, statistic, over, under, p } = lack;
  const shownP = p < 0.0005 ? 'below 0.0005' : p.toFixed(3);
  const how =
    test === 'F'
      ? `F ${statistic.toFixed(2)} with ${over} and ${under ?? 0} degrees, p ${shownP}`
      : `χ² ${statistic.toFixed(1)} with ${count(over, 'degree')} against the readings alone, p ${shownP}`;
  if (p >= SHOWN) return `none shown: ${how}`;
  return test === 'F' ? `SHOWN: ${how}` : `more than the readings explain: ${how}`;
}

/** Below this probability a lack of fit is said to be shown. */
const SHOWN = 0.05;

/** What is said of a floor. */
export function floorWords({ floor, lookedForFloor }: Fit, t: number): string {
  if (floor !== null)
    return `${withHalfWidth(floor.least, t * Math.sqrt(floor.variance))} mg below ${percentWords(floor.below)}: better than a line alone by AICc`;
  return lookedForFloor
    ? 'none: a line alone is as good by AICc'
    : `not looked for: it takes three coverages and ${FEWEST_FOR_FLOOR} points`;
}

/** What to know of a fit before it is relied on. */
function fitRemarks(fit: Fit, name: string): string[] {
  const { freedom, lackOfFit, n, sources, levels, floor } = fit;
  const copied = sameAtOneCoverage(fit);
  const repeated = atSeveralCoverages(fit);
  return [
    ...(sources === 1
      ? [
          `${name}: one trial at ${count(levels.length, 'coverage')}. How others differ from it is not in ±, and no interval is given. Try another.`,
        ]
      : []),
    ...(sources > 1 && freedom < 1
      ? [
          `${name}: the model goes through the ${n} points there are, whatever they scatter. ± holds the readings alone; no interval is given. Try a third cartridge.`,
        ]
      : []),
    ...(lackOfFit !== null && lackOfFit.p < SHOWN
      ? [
          lackOfFit.test === 'F'
            ? `${name}: the points do not lie on the model. Between the coverages tried it may be off by more than ± says; look at the residuals, and try more coverages.`
            : `${name}: the residuals are larger than the readings explain. One cartridge at each coverage cannot tell scatter from a bent line; try a coverage twice.`,
        ]
      : []),
    ...(floor !== null && levels.length < 4
      ? [
          `${name}: three coverages cannot tell a floor from a line that bends. Try a fourth, above the lowest.`,
        ]
      : []),
    ...(copied === null
      ? []
      : [
          `${name}: serial ${copied.serial} is in ${copied.files.join(' and ')} at one coverage, and counts as two cartridges: ± is too small. If the one is a copy of the other, leave it out.`,
        ]),
    ...(repeated && sources > 1
      ? [
          `${name}: a cartridge was tried at several coverages. How cartridges differ from each other is then in ± only in part.`,
        ]
      : []),
  ];
}

/** A line that says what no cartridge does; the line above a floor need not hold below it. */
function negativeRemarks({ line, floor, freedom }: Fit, name: string): string[] {
  const U = (freedom < 1 ? 2 : studentFactor(freedom)) * Math.sqrt(line.varIntercept);
  return [
    ...(floor === null && line.intercept + U < 0
      ? [`${name}: a negative toner use at zero coverage is not possible: look at the weighings.`]
      : []),
    ...(line.slope < 0
      ? [
          `${name}: less toner a page at more coverage (m1 below zero) is not possible: look at the weighings and the coverages.`,
        ]
      : []),
  ];
}

const SIDES = { candidate: '', reference: 'Reference, ' } as const;

function sideRemarks({ slots, waste }: SideResult, side: keyof typeof SIDES): string[] {
  const said = (name: string): string => {
    const whole = `${SIDES[side]}${name}`;
    return whole.charAt(0).toUpperCase() + whole.slice(1);
  };
  return [
    ...slots.flatMap(({ slot, fit, tried, mix }) => {
      const name = said(slotWords(slot));
      return [
        ...(fit === null ? [] : [...fitRemarks(fit, name), ...negativeRemarks(fit, name)]),
        ...(mix?.beyond ? [factorWords(name, mix.beyond)] : []),
        ...(mix && fit && tried.emptied.length === 1
          ? [`${name}: one cartridge was emptied; how much others give is not in ±.`]
          : []),
        ...(mix && fit && tried.emptied.length === 0 && tried.filled.length > 0
          ? [`${name}: no cartridge was weighed until exhausted; what one gives is its stated fill.`]
          : []),
      ];
    }),
    ...(waste.fit === null ? [] : fitRemarks(waste.fit, said('waste'))),
    ...(waste.mix?.beyond ? [factorWords(said('waste'), waste.mix.beyond)] : []),
  ];
}

const factorWords = (name: string, beyond: Beyond): string =>
  `${name}: ${beyondWords(beyond)} beyond what was tried. The uncertainty of what a page takes is multiplied by ${digits(beyond.factor, 3)}; nobody has tried such pages here.`;

/** What is to be known of a whole forecast; the same in every output. */
export function forecastRemarks({ candidate, reference, mix, tried }: ForecastResult): string[] {
  const { machines, unnamed, models, lots, settings, voided } = tried;
  return [
    ...(machines.size > 1
      ? [
          `The trials are of ${machines.size} machines (${few([...machines.values()])})${models.size === 0 ? ', whose model they do not say; they are taken to be of one model' : ''}. Another machine may take more or less.`,
        ]
      : []),
    ...(unnamed > 0 && tried.trials > 1
      ? [
          `${count(unnamed, 'trial does', 'trials do')} not name the machine; they are taken to be of one model. Name the machine.`,
        ]
      : []),
    ...(voided.length > 0
      ? [
          `${count(voided.length, 'trial proves', 'trials prove')} nothing, since a limit that voids ${voided.length === 1 ? 'it' : 'them'} was missed (${few(voided)}). ${voided.length === 1 ? 'It counts' : 'They count'} here all the same.`,
        ]
      : []),
    ...(lots.size > 1 ? [`Lots are mixed: ${few([...lots.keys()])}. ± holds how they differ.`] : []),
    ...(settings.size > 1
      ? [`The trials were printed with different settings (${few([...settings.keys()])}).`]
      : []),
    ...sideRemarks(candidate, 'candidate'),
    ...(reference === null ? [] : sideRemarks(reference, 'reference')),
    ...(mix?.countedBy === 'inkcov'
      ? [
          'The mix was counted by inkcov, which takes any tint for full: its coverages are too high where pages have tints. Count the test pages by it too, or take ink_cov.',
        ]
      : []),
    ...(mix?.countedBy === 'ink_cov'
      ? ['The mix was counted by ink_cov, each tint by its depth. Count the test pages by it too.']
      : []),
  ];
}

/** Why trials make no common line, and what to do. */
export function mixtureWords(mixture: Mixture): string {
  const named = [...mixture.of].map(([what, file]) => `${what} in ${file}`);
  switch (mixture.kind) {
    case 'models':
      return `the trials are of machines of different models: ${few(named)}. Numbers of one are not carried to another; forecast each by itself`;
    case 'speeds':
      return `the machines are rated for different speeds, so they are not of one model: ${few(named.map((one) => one.replace(' in ', ' pages a minute in ')))}. Forecast each by itself`;
    case 'papers':
      return `the pages are of different sizes: ${few(named)}. Percent of a page is not the same toner on each; forecast each by itself`;
  }
}

/** Why there is nothing to forecast by. */
export const nothingWords = ({ candidate, leftOut }: ForecastResult): readonly string[] => [
  ...candidate.slots.map(
    ({ slot, tried }) =>
      `${slotWords(slot)}: ${withheldWords({ code: 'no-line', coverages: [...new Set(tried.points.map(({ coverage }) => coverage))] })}`,
  ),
  ...leftOut.map((one) => `left out: ${leftOutWords(one)}`),
];

/** What is wrong with a text of ink coverages. */
export function inkFaultWords(fault: InkFault, file: string, device: string): string {
  switch (fault.code) {
    case 'no-page':
      return `${file}:${fault.line}: this is no page as ${device} tells it (four numbers and CMYK OK): ${fault.text}`;
    case 'above-all':
      return device === 'inkcov'
        ? `${file}:${fault.line}: more than 1, which inkcov never says; if ink_cov made this file, give --counted-by ink_cov`
        : `${file}:${fault.line}: more than 100 %`;
    case 'no-pages':
      return `${file}: no page in it`;
    case 'colours':
      return `${file}:${fault.line}: a page with colours, and the trials have black alone. A machine without colours prints them grey: count the pages as grey ones ("tallytare help forecast" has the command)`;
    case 'other-slots':
      return `${file}: tells cyan, magenta, yellow and black, and the trials have ${few(fault.slots)}`;
  }
}
