import type { Input } from '../archive/input.ts';
import { type AgreedPart, type Remark, type State, STATES } from '../archive/compare.ts';
import type { Of, SealedFigure } from '../archive/seal.ts';
import type { Claim, Group } from '../pool/group.ts';
import type { OpenReason } from '../judge/judge.ts';
import { SEVERITY } from '../trial/catalogue.ts';
import type { Code, Fault, Problem, Shape, Slip } from '../problems/problem.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import type { Checked } from '../problems/problem.ts';
import { dotted, lastKey, type Path } from '../uncertainty/path.ts';
import { shown } from './numbers.ts';

/** Every sentence that is said about a trial file, a limits file or a figure, in one place. */

interface Said {
  /** What is wrong, or what there is to know. */
  readonly say: string;
  /** What to do about it. */
  readonly mend: string;
}

type Words = { readonly [C in Code]: (fault: Extract<Fault, { code: C }>, key: string) => Said };

const list = (items: readonly string[], last = 'or'): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1) ?? ''}`;

const SHAPES: Readonly<Record<Shape | 'nothing', string>> = {
  value: 'a single value',
  map: 'a map (key: value, or {key: value})',
  list: 'a list (a line with "- " for each entry, or [ ])',
  nothing: 'nothing',
};

const guess = (nearest: string | null, known: readonly string[]): string =>
  nearest !== null ? `Did you mean "${nearest}"?` : known.length > 0 ? `It can be: ${list(known)}.` : '';

/** A cartridge as a sentence begins with it. */
const cartridgeOf = (slot: string): string => (slot === '' ? 'The cartridge' : `Cartridge ${slot}`);

const YAML_HINTS: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: 'Indent with spaces.',
  BAD_INDENT: 'Keys that belong together start in the same column; brackets must be closed.',
  MISSING_CHAR: 'Close the quotation mark, bracket or brace.',
  BLOCK_AS_IMPLICIT_KEY: 'Write one "key: value" a line; put text that holds ": " in quotation marks.',
  MULTILINE_IMPLICIT_KEY: 'Write the key and its colon on one line.',
  BAD_SCALAR_START: 'Put the text in quotation marks.',
  UNEXPECTED_TOKEN: 'Look at the brackets, commas and colons of this line and the one before.',
};

const WORDS: Words = {
  'internal-fault': ({ why }) => ({
    say: `This program failed on this file: ${why}.`,
    mend: 'That is a fault of the program, not of the file; please tell its makers. The other files were judged.',
  }),
  'file-unreadable': ({ why }) => ({
    say: `This file cannot be read: ${why}.`,
    mend: 'Check its name and folder.',
  }),
  'folder-unreadable': ({ why }) => ({
    say: `This folder cannot be read: ${why}.`,
    mend: 'What is in it was not looked at.',
  }),
  'no-trials-here': () => ({
    say: 'This folder holds no trial file.',
    mend: 'Trial files end in .yaml or .yml; hidden ones are passed over.',
  }),
  'no-file-fits': () => ({
    say: 'No trial file fits this pattern.',
    mend: 'Check it, and the folder it starts from; trial files end in .yaml or .yml.',
  }),
  'empty-list': () => ({
    say: 'This list names no file, so nothing was looked at.',
    mend: 'Check what made the list; one name stands on a line, or ends with NUL.',
  }),
  'file-too-large': ({ bytes }) => ({
    say: `This file has ${bytes} bytes; a trial has at most 4 MiB.`,
    mend: 'Check that it is the right file.',
  }),
  'not-utf8': ({ byte }) => ({
    say: `This file is not UTF-8 text: byte ${byte + 1} fits no character.`,
    mend: 'Save it again as UTF-8.',
  }),
  'empty-file': () => ({
    say: 'This file is empty.',
    mend: 'A trial needs at least the keys "trial" and "meter", a set of limits at least one limit.',
  }),
  'not-yaml': ({ yaml, detail }) => ({
    say: `This is not well-formed YAML: ${detail.charAt(0).toLowerCase()}${detail.slice(1)}.`,
    mend: YAML_HINTS[yaml] ?? 'Look at the indentation, brackets and colons here and on the line before.',
  }),
  'several-documents': () => ({
    say: 'A second document begins here.',
    mend: 'Keep one trial a file; take out the "---" or split the file.',
  }),
  'nested-too-deep': () => ({
    say: 'The brackets or lists of this file go deeper than any trial needs.',
    mend: 'Check that it is the right file.',
  }),
  'too-long': () => ({
    say: 'This file holds far more than any trial.',
    mend: 'Check that it is the right file.',
  }),
  'too-many-entries': ({ entries, most }) => ({
    say: `A list or map of ${entries} entries stands here; a trial has at most ${most}.`,
    mend: 'Check that it is the right file; of a logger keep every tenth reading.',
  }),
  alias: () => ({
    say: 'An alias (*name) stands here; a trial says everything where it belongs.',
    mend: 'Write the value itself; text that begins with * goes in quotation marks.',
  }),
  tag: ({ tag }) => ({
    say: `A tag (${tag}) stands here; values are read by their key.`,
    mend: 'Take the tag out.',
  }),
  'key-not-text': () => ({ say: 'This key is not a word.', mend: 'Write a plain key before the colon.' }),
  'duplicate-key': ({ key, firstLine }) => ({
    say: `The key "${key}" stands here a second time; it is already on line ${firstLine}.`,
    mend: 'Keep one of the two.',
  }),
  'more-problems': ({ count }) => ({
    say: `There are ${count} more problems like these.`,
    mend: 'Mend the first ones and try again.',
  }),
  'unknown-key': ({ key, nearest, known, empty }) => ({
    say: `There is no key "${key}" here.`,
    mend:
      empty && nearest === null
        ? 'Inside { } a comma ends a value: put a text that holds one in quotation marks.'
        : guess(nearest, known),
  }),
  'split-number': ({ written, write }) => ({
    say: `Inside { } and [ ] a comma ends the value, so "${written}" falls into two.`,
    // Three digits behind it may be thousands as well.
    mend: /^[1-9]\d{0,2}\.\d{3}(?!\d)/.test(write)
      ? `Write a point, ${write}, or where it groups thousands nothing: ${write.replace('.', '')}.`
      : `Write a point: ${write}.`,
  }),
  'missing-key': ({ key }) => ({
    say: `The key "${key}" is missing.`,
    mend:
      key === 'trial'
        ? 'Add a line such as "trial: what was tried".'
        : `Add "${key}:"; its value may come later.`,
  }),
  'wrong-shape': ({ expected, got }, key) => ({
    say: `${key === '' ? 'This file' : `"${key}"`} holds ${SHAPES[got]} where ${list(expected.map((shape) => SHAPES[shape]))} belongs.`,
    mend:
      got === 'nothing'
        ? 'Fill it in, or take the empty entry out.'
        : 'See the README for how it is written.',
  }),
  'unknown-word': ({ written, nearest, known }) => ({
    say: `"${written}" is not one of the words that can stand here.`,
    mend: nearest !== null ? `Did you mean "${nearest}"?` : `Write ${list(known)}.`,
  }),
  'bad-slot-name': ({ written }) => ({
    say: `"${written}" cannot be the name of a slot.`,
    mend: 'Use black, cyan, magenta, yellow, or a name of your own without #.',
  }),
  'empty-text': () => ({ say: 'Nothing is said here.', mend: 'Write a few words, or take the key out.' }),
  'wrong-length': ({ expected, got }, key) => ({
    say: `"${key}" holds ${got} values; it takes ${expected}.`,
    mend: 'Inside [ ] a comma parts the values; decimals are written with a point.',
  }),
  comma: ({ written, write }) => ({
    say: `"${written}" has a comma in its number.`,
    mend: `Decimals are written with a point and thousands without a mark: ${list(write)}.`,
  }),
  'grouped-digits': ({ written, write }) => ({
    say: `The digits of "${written}" are set apart.`,
    mend: `Write them together: ${list(write)}.`,
  }),
  'not-a-number': ({ written }) => ({
    say: `"${written}" does not begin with a number.`,
    mend: 'Write digits, then the unit: 948 g. Leave the value empty while it has not been read.',
  }),
  'too-many-digits': ({ written }) => ({
    say: `"${written}" has more digits than any instrument shows.`,
    mend: 'Write it as it was read.',
  }),
  'number-too-large': ({ written }) => ({ say: `"${written}" is beyond 10^12.`, mend: 'Check the digits.' }),
  'number-too-small': ({ written }) => ({
    say: `"${written}" is closer to zero than 10^-12.`,
    mend: 'Check the digits, or write 0.',
  }),
  'unknown-unit': ({ written, unit, accepted }) => ({
    say: `"${written}" has a unit, "${unit}", that does not fit here.`,
    mend:
      accepted.length > 0
        ? `Use ${list(accepted)}, or a bare number in ${accepted[0] ?? ''}.`
        : 'Write a bare number.',
  }),
  'unknown-currency': ({ written, currency }) => ({
    say:
      currency === ''
        ? `"${written}" does not say in which currency.`
        : `"${currency}" is no ISO 4217 code of a currency.`,
    mend: 'Write the price with its code: 41.50 EUR.',
  }),
  'not-whole': ({ written }) => ({
    say: `"${written}" is not a whole number.`,
    mend: 'Pages and counts are whole.',
  }),
  'too-low': ({ written, least, unit }) => ({
    say: `"${written}" is below ${least}${wordless(unit)}, which cannot be.`,
    mend: 'Check the reading and its sign.',
  }),
  'too-high': ({ written, greatest, unit }) => ({
    say: `"${written}" is above ${greatest}${wordless(unit)}, which cannot be.`,
    mend: 'Check the reading and its unit.',
  }),
  'not-positive': ({ written }) => ({
    say: `"${written}" must be more than zero.`,
    mend: 'Check the number.',
  }),
  'not-a-time': ({ written }) => ({
    say: `"${written}" is not a date or time as ISO 8601 writes it.`,
    mend: 'Write 2026-03-09, 2026-03-09T14:30 or 2026-03-09T14:30+01:00.',
  }),
  'no-such-time': ({ written }) => ({
    say: `There is no such time as "${written}".`,
    mend: 'Check day, month and hour.',
  }),
  'not-a-digest': ({ written }) => ({
    say: `"${written}" is not a SHA-256.`,
    mend: 'It has 64 hexadecimal digits; sha256sum FILE prints it.',
  }),

  'end-below-start': ({ start, end }) => ({
    say: `The meter ends at ${end}, below its start at ${start}.`,
    mend: 'If the two were exchanged, swap them; if the counter rolled over, add "digits:" with the number of its digits.',
  }),
  'more-digits-than-counter': ({ written, digits }) => ({
    say: `${written} has more digits than a counter of ${digits}.`,
    mend: 'Check the reading and "digits".',
  }),
  'other-pages-exceed-run': ({ other, run }) => ({
    say: `${other} pages not of the trial are more than the ${run} pages of the run.`,
    mend: 'Check the meter and "other_pages".',
  }),
  'final-below-tare': ({ tare, final }) => ({
    say: `The container weighs ${final} after the run and ${tare} empty; waste cannot weigh less than nothing.`,
    mend: 'Weigh again, or swap the two if they were exchanged.',
  }),
  'interim-below-tare': ({ tare, mass }) => ({
    say: `The container weighs ${mass} here, less than the ${tare} it weighs empty.`,
    mend: 'Weigh again, or check the digits of both.',
  }),
  'interim-above-final': ({ mass, final }) => ({
    say: `The container weighs ${final} after the run, less than the ${mass} on the way.`,
    mend: 'Check the digits of both; if the container was changed, list both containers.',
  }),
  'interim-falls': ({ before, mass }) => ({
    say: `The container weighs ${mass} here, less than the ${before} at the checkpoint before.`,
    mend: 'Check the digits of both; if the container was changed, list both containers.',
  }),
  'weighed-twice-apart': ({ first, second, at }) => ({
    say: `At meter ${at} the container weighs ${first} as a checkpoint and ${second} after the run.`,
    mend: 'Check the digits of both.',
  }),
  'waste-rate-apart': ({ from, to, rate, others }) => ({
    say: `From meter ${from} to ${to} the waste is ${rate} g per thousand pages, in the rest of the run ${others} g.`,
    mend: 'Check the digits of the weights and of the meter at both ends.',
  }),
  'used-beyond-fill': ({ slot, used, fill }) => ({
    say: `${cartridgeOf(slot)} lost ${used} g, more than the ${fill} g of toner filled in.`,
    mend: 'Check start_mass, end_mass and fill_mass.',
  }),
  'exhausted-early': ({ slot, used, usable }) => ({
    say: `${cartridgeOf(slot)} is noted as exhausted, but lost only ${used} g of its ${usable} g of toner.`,
    mend: 'Check its weights and exhausted_at; if it stopped too early, write failed_at and failed_by: early_stop.',
  }),
  'pages-after-cartridge': ({ slot, pages, at }) => ({
    say: `${cartridgeOf(slot)} was out at meter ${at}, no other was fitted, and ${pages} more pages were printed.`,
    mend: 'Check that reading; if another cartridge was fitted, list it.',
  }),
  'pages-after-last-batch': ({ pages, longest, at }) => ({
    say: `${pages} pages lie behind the last checkpoint, at meter ${at}; a batch has ${longest}.`,
    mend: 'Check the digits of the meter’s end; if it is right, note the checkpoints that are missing.',
  }),
  'first-batch-long': ({ pages, longest }) => ({
    say: `The first batch has ${pages} pages; the others have ${longest}.`,
    mend: 'Check the digits of the meter’s start, and of the first checkpoint.',
  }),
  'pages-over-target': ({ pages, target, batch }) => ({
    say: `${pages} pages were printed of ${target} planned: more than a batch of ${batch} too many.`,
    mend: 'Check the digits of the meter’s end; if it is right, note the checkpoints that are missing.',
  }),
  'reading-not-of-run': ({ written, days, where }) => ({
    say: `${written} is ${days} days ${where === 'others' ? 'from every other reading of the air' : `${where} the run`}.`,
    mend: 'Check the day and the year; leave out what was not read during this run.',
  }),
  'checked-unknown': ({ reading, nearest }) => ({
    say: `The trial has no reading ${reading}.`,
    mend:
      nearest === null
        ? 'Write it as in waste_container.final or batches[3].container_mass.'
        : `Did you mean ${nearest}?`,
  }),
  'still-in-at-end': ({ slot, pages }) => ({
    say: `${cartridgeOf(slot)} was still in when the run ended${pages === null ? '' : `, after ${pages} pages`}: it was not run to its end, and no limit on yields judges it.`,
    mend: '',
  }),
  'unspoken-finding': ({ findings }) => ({
    say: `${findings === 1 ? 'A critical finding was' : `${findings} critical findings were`} recorded, and no limit speaks of findings.`,
    mend: 'Agree on a limit, such as worst_finding: {max: minor}.',
  }),
  'unspoken-failure': ({ cartridges }) => ({
    say: `${cartridges === 1 ? 'A cartridge' : `${cartridges} cartridges`} failed, and no limit speaks of failures.`,
    mend: 'Agree on a limit, such as failed_cartridges: {max: 0}.',
  }),
  'short-of-target': ({ pages, target }) => ({
    say: `The run ended after ${pages} of the ${target} pages planned.`,
    mend: 'If it goes on, leave the meter’s end empty until it is over, and note the reading under "batches". If less was agreed, change target.pages.',
  }),
  'outside-run': ({ written, start, end }) => ({
    say: `${written} is not a meter reading of this run, ${start} to ${end}.`,
    mend: 'Check the digits of the reading, and the ends of the meter.',
  }),
  'out-of-order': ({ before, written }) => ({
    say: `${written} does not come after ${before}.`,
    mend: 'Check the digits of both, and their order.',
  }),
  'before-fitted': ({ written, installed }) => ({
    say: `${written} comes before the cartridge was fitted, at ${installed}.`,
    mend: 'Check the digits of both.',
  }),
  'cartridges-overlap': ({ slot, written, previous }) => ({
    say: `The cartridge before it ${slot === '' ? '' : `in slot ${slot} `}was still in the machine at ${previous}, and this one speaks of ${written}.`,
    mend: 'List the cartridges of a slot in the order they were fitted, and check the readings.',
  }),
  'mass-rises': ({ start, end }) => ({
    say: `The cartridge weighs ${end} after its run and ${start} before it; printing adds no toner.`,
    mend: 'Weigh again, or swap the two if they were exchanged.',
  }),
  'part-exceeds-whole': ({ part, whole, wholeKey }) => ({
    say: `${part} is more than the ${whole} of "${wholeKey}" that it is a part of.`,
    mend: 'Check both.',
  }),
  'gauge-rises': ({ start, end }) => ({
    say: `The gauge shows ${end} after the run and ${start} before it.`,
    mend: 'Swap the two if they were exchanged; if the cartridge was changed, list both.',
  }),
  'exhausted-where': () => ({
    say: '"exhausted_by" says the cartridge was exhausted, but not at which meter reading: its yield counts as at least what it printed.',
    mend: 'Add "exhausted_at:" with the meter reading.',
  }),
  'failed-where': () => ({
    say: '"failed_by" says the cartridge failed, but not at which meter reading.',
    mend: 'Add "failed_at:" with the meter reading.',
  }),
  'ends-before-start': ({ start, end }) => ({
    say: `${end} comes before ${start}, which should be earlier.`,
    mend: 'Check the dates, or swap them if they were exchanged.',
  }),
  'times-mixed': ({ written, first }) => ({
    say: `${written} and ${first} cannot be put in order: one has an offset from UTC, the other none.`,
    mend: 'Give every time of the file an offset, or none.',
  }),
  'unknown-slot': ({ slot, slots }) => ({
    say: `No cartridge is in a slot "${slot}".`,
    mend: `The slots of this run are ${list(slots, 'and')}.`,
  }),
  'tolerance-exceeds-value': ({ value, tolerance }) => ({
    say: `A tolerance of ${tolerance} is more than the coverage of ${value} itself.`,
    mend: 'Both are in percent of the page: 5 % that may be off by half a percent has tolerance 0.5 %.',
  }),
  'border-exceeds-paper': ({ border }) => ({
    say: `A border of ${border} all round leaves nothing of the page.`,
    mend: 'Check the border and the paper size.',
  }),
  'runs-overlap': () => ({
    say: 'The reference run covers meter readings that the trial’s run covers too.',
    mend: 'Two runs of one machine may touch, not overlap: check the four readings.',
  }),
  'patch-twice': ({ patch }) => ({
    say: `The patch "${patch}" is listed twice.`,
    mend: 'Give each patch a name of its own.',
  }),

  'effect-twice': () => ({
    say: 'This limit says twice what it means that it is missed.',
    mend: 'Leave "weight" out: it is the word of before for "effect".',
  }),
  'limit-without-bound': () => ({
    say: 'This limit has neither "min" nor "max".',
    mend: 'Add the one that was agreed.',
  }),
  'limit-reversed': ({ min, max }) => ({
    say: `No figure is at least ${min} and at most ${max}.`,
    mend: 'Swap the two.',
  }),
  'limit-of-whole-figure': ({ figure }) => ({
    say: `"${figure}" is not a figure of parts here, so "of" says nothing.`,
    mend: 'Take "of" out.',
  }),
  'limit-without-stat': ({ figure, stat, known }) => ({
    say: `"${figure}" has no ${stat}.`,
    mend: known.length > 0 ? `It has ${list(known, 'and')}.` : 'Take "stat" out.',
  }),
  'limit-of-unknown-part': ({ figure, of, parts }) => ({
    say: `This trial has no "${of}" that "${figure}" could be derived for.`,
    mend:
      parts.length > 0
        ? `It has ${list(parts, 'and')}.`
        : 'It lists no such part yet: take "of" out, or name its slots, patches or findings.',
  }),
  'limit-not-applied': ({ figure, of, from }) => ({
    say: `The limit on ${figure} of ${of} from ${from} was not applied: this trial has no ${of}.`,
    mend: '',
  }),
  'limit-in-two-currencies': ({ min, max }) => ({
    say: `"min" is in ${min} and "max" in ${max}.`,
    mend: 'Give both in one currency.',
  }),
  'limit-in-other-currency': ({ limit, prices }) => ({
    say: `This limit is in ${limit}, the prices are in ${prices}; they cannot be compared.`,
    mend: `Give the limit in ${prices}.`,
  }),
  'limit-currency-not-applied': ({ limit, prices, from }) => ({
    say: `The limit on cost_per_thousand from ${from} was not applied: it is in ${limit}, the prices are in ${prices}.`,
    mend: '',
  }),
  'currencies-differ': ({ written, first }) => ({
    say: `This price is in ${written}, an earlier one in ${first}; they cannot be added.`,
    mend: 'Give all prices of a trial in one currency.',
  }),
  'unknown-preset': ({ preset, known, nearest }) => ({
    say: `There is no preset "${preset}".`,
    mend: `${nearest !== null ? `Did you mean "${nearest}"? ` : ''}The presets are ${list(known, 'and')}; a file ends in .yaml or .yml.`,
  }),
  'limits-unreadable': ({ file, why }) => ({ say: `The limits in ${file} cannot be used: ${why}`, mend: '' }),

  'stated-differs': ({ figure, of, stat, stated, derived, unit, slip }) => ({
    say: `The report states ${figureWords(figure, of, stat)} as ${stated}; the readings give ${derived}${wordless(unit)}.`,
    mend: slip === null ? 'Check the sum, or the readings it was made from.' : `${SLIPS[slip]}.`,
  }),
  'stated-in-other-currency': ({ figure, stated, prices }) => ({
    say: `The report states ${figure} as ${stated}, the prices are in ${prices}; they cannot be compared.`,
    mend: `State it in ${prices}.`,
  }),
  'stated-as-exact': ({ figure, of, stat, stated, bound }) => ({
    say: `The report states ${figureWords(figure, of, stat)} as ${stated}, but the readings give it only as a bound.`,
    mend:
      bound === 'at_least'
        ? 'A cartridge that was not exhausted printed so many pages; it does not yield so many. Let the report say "at least".'
        : 'The cartridge was not exhausted, so this is the most it can be. Let the report say "at most".',
  }),
  'stated-unknown-part': ({ figure, of }) => ({
    say: `The report states ${figure}${of === '' ? '' : ` of ${of}`}, which this trial does not have.`,
    mend: 'Say which part or reading is meant with "of" and "stat".',
  }),
  'waste-exceeds-toner': ({ waste, used }) => ({
    say: `The container holds ${waste} g of waste, the cartridges lost ${used} g; there cannot be more waste than toner.`,
    mend: 'Weigh again what can be weighed: the container (tare, final) and the cartridges (start_mass, end_mass).',
  }),
  'projections-differ': ({ slot, mass, gauge }) => ({
    say: `${slot === '' ? 'The cartridge' : `Cartridge ${slot}`} projects to ${mass} pages by weight and to ${gauge} by its gauge, further apart than both can explain.`,
    mend: 'Check the weights and fill_mass first; a gauge may count pages and not toner.',
  }),
  'residual-taken-as-zero': ({ slots }) => ({
    say: `The projected yield${slots.length === 0 ? '' : ` of ${list(slots, 'and')}`} takes the cartridge to its last gram: no residual_mass is given.`,
    mend: 'Weigh what stays in an exhausted cartridge and give it as residual_mass.',
  }),
  'far-from-reference': ({ slot, coverage, reference, pages, moved }) => ({
    say: `${slot === '' ? 'The yield' : `The yield of ${slot}`} was carried from ${coverage} % coverage to ${reference} % in proportion, a first-order model only (ASTM F685 and F1424 say as much): ${pages} pages. If ${list(moved.map(([share]) => `${share} %`))} of the toner went into pages of no coverage, it would be ${list(moved.map(([, at]) => at))} pages.`,
    mend: 'Give non_image_usage, or try the lot nearer to the reference coverage.',
  }),
  'coverage-differs': ({ slot, candidate, reference }) => ({
    say: `The reference${slot === '' ? '' : ` of ${slot}`} was printed at ${reference} % coverage, the candidate at ${candidate} %.`,
    mend: 'The ratios compare the two coverages as well as the two consumables.',
  }),
  'reference-short': ({ pages, trial }) => ({
    say: `The reference run has ${pages} pages, the trial ${trial}; so short a run says little.`,
    mend: 'Print more reference pages, or rest nothing on the ratios.',
  }),
  'batch-stops': ({ batch, stops, all }) => ({
    say: `${stops} of the ${all} stops fell into batch ${batch}, more than its pages explain.`,
    mend: 'Look at what was different there.',
  }),
  'batch-waste': ({ batch, rate, others }) => ({
    say: `Batch ${batch} made ${rate} g of waste per thousand pages, the others ${others} g.`,
    mend: 'Check its weighings, then look at what was different there.',
  }),
  'part-reaches-life': ({ part, life, at, before }) => ({
    say: `${part} ${before ? 'was past' : 'reaches'} its rated life of ${life} pages ${before ? 'when the run began' : `${at === null ? '' : `at meter ${at}, `}during the run`}.`,
    mend: 'A worn part spoils a trial: replace it before the run.',
  }),
  'calibration-ended': ({ instrument, until, day }) => ({
    say: `The calibration of the ${instrument} ended on ${until}; it was used on ${day}.`,
    mend: 'Have it calibrated and repeat the readings that decide.',
  }),
  'faster-than-rated': ({ pages, minutes, rated }) => ({
    say: `${pages} pages in ${minutes} minutes are more than the ${rated} pages a minute the machine is rated for.`,
    mend: 'Check the times and meter readings of this batch.',
  }),
  'fraction-for-percent': ({ written, percent }) => ({
    say: `"${written}" is read as ${written} %.`,
    mend: `If ${percent} % is meant, write ${percent} %; else add the % sign.`,
  }),
  'sheets-differ': ({ counted, derived }) => ({
    say: `${counted} sheets were counted; pages and duplex share ask for ${derived}.`,
    mend: 'Check the duplex share and its basis, the count, and the meter.',
  }),
  'container-change-unlisted': ({ changes, listed }) => ({
    say: `The waste container was changed ${changes === 1 ? 'once' : `${changes} times`}, but ${listed === 1 ? 'only one is' : `only ${listed} are`} listed: the waste in the others is missing.`,
    mend: 'List every container under "waste_container", in the order they were fitted, each with its own tare and final.',
  }),
  'cartridge-change-unlisted': ({ slot, changes, listed }) => ({
    say: `The cartridge${slot === '' ? '' : ` of ${slot}`} was changed ${changes === 1 ? 'once' : `${changes} times`}, but ${listed === 1 ? 'only one is' : `only ${listed} are`} listed.`,
    mend: 'List every cartridge that was fitted, in that order.',
  }),
  'slot-empty': ({ slot, from, to }) => ({
    say: `${slot === '' ? 'The slot' : `Slot ${slot}`} has no cartridge from meter ${from} to ${to}.`,
    mend: 'Check where the one was exhausted or taken out, and where the next was fitted.',
  }),
  'over-capacity': ({ waste, capacity }) => ({
    say: `The container holds ${waste} g of waste, more than its capacity of ${capacity} g.`,
    mend: 'Check tare, final and capacity; capacity is grams of waste, without the container.',
  }),
  'mass-implausible': ({ written, light }) => ({
    say: `${written} is ${light ? 'less' : 'more'} than a cartridge or a waste container weighs.`,
    mend: light
      ? 'A bare number is in g: where the scale shows kg, write the unit behind it.'
      : 'Check the unit: the weight is in g unless another is written behind it.',
  }),
  'cartridge-failed': ({ slot, at, until }) => ({
    say: `The cartridge${slot === '' ? '' : ` of ${slot}`} failed${at === null ? '' : ` at meter ${at}`}${until === null ? '' : `, but its pages are counted to ${until}`}.`,
    mend:
      until === null
        ? 'No limit is held against that; find out why before the lot is relied on.'
        : 'Where it was taken out earlier, say so with "removed_at"; no limit is held against the failure itself.',
  }),
  'usage-implausible': ({ slot, usage }) => ({
    say: `${slot === '' ? 'The cartridge' : `Cartridge ${slot}`} used ${usage} mg for a covered square centimetre, which coverage alone does not explain.`,
    mend: 'Check the coverage and both weights of the cartridge.',
  }),
  'mark-repeats': ({ distance, matches }) => ({
    say:
      matches.length === 0
        ? `A mark repeats every ${distance}: no rotating part of the machine has that circumference or a multiple of it.`
        : `A mark repeats every ${distance}: ${list(matches.map(({ part, turns }) => (turns === 1 ? `once a turn of the ${part}` : `${turns} turns of the ${part}`)))}.`,
    mend: '',
  }),
  'readings-sorted': () => ({
    say: 'This reading comes before the one above it; the readings were put in order.',
    mend: 'Check that it was written down right.',
  }),
  'rolled-over': ({ digits }) => ({
    say: `The meter ends below its start: a counter of ${digits} digits rolled over once.`,
    mend: '',
  }),
  'proportional-scaling': ({ slot }) => ({
    say: `The yield${slot === '' ? '' : ` of ${slot}`} was scaled in proportion to coverage: "non_image_usage" needs the toner used per page to be set against.`,
    mend: 'Weigh the cartridge before and after, or give its fill_mass once it is exhausted.',
  }),
  'within-uncertainty': ({ figure, of, stat, margin, U, unit, probability }) => ({
    say: `${figureWords(figure, of, stat)} is ${shortest(margin)} ${unit} from its limit, less than its uncertainty of ${shortest(U)} ${unit}: the true value keeps to the limit with a probability of ${probability}.`,
    mend: 'A finer instrument or a longer run would tell; the guarded rule would leave this open.',
  }),
  'photo-unreadable': ({ photo, why }) => ({
    say: `The photo "${photo}" cannot be read: ${why}.`,
    mend: 'Check its name, which counts from the folder of the trial file.',
  }),
  'photo-outside': ({ photo }) => ({
    say: `The photo "${photo}" is not in the trial file’s folder or below.`,
    mend: 'Put it beside the trial file and name it from there.',
  }),
  'photo-no-image': ({ photo }) => ({
    say: `"${photo}" is no JPEG, PNG or WebP image, whatever its name says.`,
    mend: 'Save the photo as one of these.',
  }),
  'photo-too-large': ({ photo, mebibytes }) => ({
    say: `The photo "${photo}" has more than ${mebibytes} MiB.`,
    mend: 'Save a smaller copy of it.',
  }),
  'photos-too-large': ({ mebibytes }) => ({
    say: `With this photo all photos together have more than ${mebibytes} MiB.`,
    mend: 'Save smaller copies of them, or leave some out.',
  }),
  'to-be-read': ({ reading }) => ({ say: `${reading} is still to be read.`, mend: '' }),
  'run-under-way': ({ pages, target, percent, next, batch }) => ({
    say: `${pages} pages are printed${target === null ? '' : ` of ${target} (${percent ?? ''} %)`}.`,
    mend: next === null ? '' : `Next: batch ${batch ?? ''}, to meter ${next}.`,
  }),
  'run-expected-end': ({ speed, hours, day }) => ({
    say: `At ${speed} pages an hour so far, ${hours} printing hours are left${day === null ? '' : `: done on ${day} at the earliest`}.`,
    mend: '',
  }),
  'waste-so-far': ({ waste, pages, rate, expected }) => ({
    say: `${withU(waste)} g of waste from ${pages} pages are ${withU(rate)} g per thousand${expected === null ? '' : `: ${withU(expected)} g in the end if it stays so`}.`,
    mend: '',
  }),
  'run-short-of-target': ({ pages, target }) => ({
    say: `The run has ${pages} of the ${target} pages planned.`,
    mend: 'If it goes on, leave the meter’s end empty until it is over, and note the reading under "batches".',
  }),
  'limit-out-of-reach': ({ figure, min, max, unit, value, bound }) => ({
    say: `The limit on ${figure}, ${limitWords(min, max, unit)}, can no longer be kept: it comes to ${bound === 'at_least' ? 'at least' : 'at most'} ${value}${wordless(unit)}, whatever the rest of the run brings.`,
    mend: 'Check the reading; if it is right, the run may be stopped here.',
  }),
  'limit-at-risk': ({ figure, min, max, unit, value }) => ({
    say: `The limit on ${figure}, ${limitWords(min, max, unit)}, would be missed if the run went on as it did: ${withU(value)}${wordless(unit)}.`,
    mend: 'Weigh again, and look at what is different from what was expected.',
  }),
  'container-fills': ({ at, capacity }) => ({
    say: `At this rate the waste container, which takes ${capacity} g, is full at about meter ${at}, before the run ends.`,
    mend: 'Have another one ready: weigh the full one, and list the new one under "waste_container" once it is fitted.',
  }),
  'no-fails-limit': () => ({
    say: 'No limit was agreed that could condemn the lot, so nothing was decided.',
    mend: 'Add "limits:" to the trial, or give --limits with a file or preset.',
  }),
};

/** A unit behind a number in a sentence; of a pure number and a severity there is none. */
const wordless = (unit: string): string => (unit === '1' || unit === SEVERITY ? '' : ` ${unit}`);

/** What a limit asks for. */
export const limitWords = (min: string | null, max: string | null, unit: string): string => {
  const range =
    min !== null && max !== null
      ? `${min} to ${max}`
      : min !== null
        ? `at least ${min}`
        : `at most ${max ?? ''}`;
  return `${range}${wordless(unit)}`;
};

/** A value with its expanded uncertainty, both as far as that goes. */
function withU([value, U]: readonly [value: string, U: string]): string {
  const known = shown(new Decimal(value), new Decimal(U));
  return known.U === '' ? known.value : `${known.value} ± ${known.U}`;
}

/** A figure as sentences name it. */
const figureWords = (figure: string, of: string | null, stat: string | null): string =>
  [stat, figure, of === null ? '' : `of ${of}`].filter(Boolean).join(' ');

/** What each slip is, in words. */
const SLIPS: Readonly<Record<Slip, string>> = {
  'digits-swapped': 'Two digits look swapped',
  'digit-dropped': 'A digit looks dropped',
  'digit-doubled': 'A digit looks written twice',
  'point-moved': 'The decimal point looks moved',
  'sheets-for-pages': 'Sheets look taken for pages',
  'tare-not-taken-off': 'The empty container looks not taken off',
  'start-and-end-exchanged': 'Start and end look exchanged',
  'total-for-thousand': 'The total looks given for the thousand',
};

/** A plain decimal cut to two significant digits, for use in a sentence. */
function shortest(decimal: string): string {
  const value = Number(decimal);
  if (value === 0) return '0';
  const places = Math.max(0, 1 - Math.floor(Math.log10(Math.abs(value))));
  return value.toFixed(Math.min(places, 12));
}

/** What there is to say of a problem, and how it is mended; either may be long, neither ends the line. */
export function wordsOf(problem: Problem): Said {
  const word = WORDS[problem.code] as (fault: Fault, key: string) => Said;
  const said = word(problem, lastKey(problem.path) ?? '');
  return problem.checked === undefined ? said : { say: said.say, mend: checkedWords(problem.checked) };
}

/** How doubted readings were looked at again. */
export const checkedWords = (checked: readonly Checked[]): string =>
  `Checked: ${checked.map(({ reading, note, by }) => `${reading}, ${note}${by === null ? '' : ` (${by})`}`).join('; ')}.`;

/** Both in one line. */
export function messageOf(problem: Problem): string {
  const { say, mend } = wordsOf(problem);
  return mend === '' ? say : `${say} ${mend}`;
}

/** Why a figure has no value, or a limit is open. */
export function reasonWords(reason: OpenReason): string {
  switch (reason.code) {
    case 'reading-missing':
      return `${dotted(reason.path)} is still to be read`;
    case 'no-readings':
      return `${dotted(reason.path)} holds no such reading`;
    case 'no-such-part':
      return `the trial has no ${reason.part}`;
    case 'divisor-zero':
      return `${reason.divisor} is zero, and nothing can be divided by it`;
    case 'logarithm-of-zero':
      return `${dotted(reason.path)} is zero, which has no logarithm`;
    case 'outside-formula':
      return `${dotted(reason.path)} is outside the formula’s range of ${reason.range}`;
    case 'bounds-conflict':
      return 'one of its inputs is only a lower bound and another only an upper one';
    case 'coverage-zero':
      return `${dotted(reason.path)} is zero, from which no yield follows`;
    case 'usage-below-non-image':
      return `${dotted(reason.path)} is more than the toner used per page`;
    case 'capacities-differ':
      return `${dotted(reason.path)} differs between the containers`;
    case 'cartridge-changed':
      return 'a cartridge was changed, and "cartridges" does not list every one';
    case 'container-changed':
      return 'the waste container was changed, and "waste_container" does not list every one';
    case 'not-given':
      return `${dotted(reason.path)} is not given`;
    case 'too-many-batches':
      return `${dotted(reason.path)} makes more than ${reason.most} batches`;
    case 'claim-above-expected':
      return `${dotted(reason.path)} is not below the yield expected: no number of cartridges supports it`;
    case 'error-above-margin':
      return `${dotted(reason.path)} alone takes more than a tenth of the margin to the limit`;
    case 'no-margin':
      return `by ${dotted(reason.path)} the limit is passed already`;
    case 'doubted':
      return `${reason.doubt}: it rests on ${list(reason.readings, 'and')}, which ${reason.readings.length === 1 ? 'is' : 'are'} in doubt`;
    case 'still-in-at-end':
      return 'put in for another, and still in when the run ended: it was not run to its end';
    case 'only-at-least':
      return 'the cartridge was not exhausted: the figure is only a lower bound';
    case 'only-at-most':
      return 'the figure is only an upper bound';
    case 'within-guard-band':
      return 'it is closer to the limit than the guard band';
  }
}

const AGREED: Readonly<Record<AgreedPart, string>> = {
  decision: 'The rule that decides',
  reference_coverage: 'The reference coverage',
  limits: 'The limits as laid over each other',
};

const INPUTS: Readonly<Record<Input['kind'], string>> = {
  trial: 'The trial',
  limits: 'The limits file',
  preset: 'The preset',
};

const sealedOf = ({ figure, of, stat }: Of): string => figureWords(figure, of, stat);

/** What there is to say of a re-checked trial. */
export function remarkWords(remark: Remark): string {
  switch (remark.code) {
    case 'seal-missing':
      return 'There is no seal beside this trial. "tallytare seal" makes one.';
    case 'seal-altered':
      return 'The text of the seal is not what was sealed: its digest does not fit, or has gone. Bring the seal back from a copy; what it says now proves nothing.';
    case 'seal-malformed':
      return 'The digest of the seal fits its text, but the text is no seal as tallytare writes it. Bring the seal back from a copy.';
    case 'seal-too-large':
      return 'The seal has more than 4 MiB, more than any seal. Bring it back from a copy.';
    case 'seal-newer':
      return `The seal is of format ${remark.format}, which this tallytare does not know. Re-check it with a later one.`;
    case 'seal-unreadable':
      return `The seal cannot be read: ${remark.why}.`;
    case 'trial-gone':
      return 'The trial that this seal is of is gone. Bring it back from a copy.';
    case 'problem':
      return messageOf(remark.problem);
    case 'input-changed': {
      const { kind, file, sha256 } = remark.input;
      const name = kind === 'trial' ? INPUTS.trial : `${INPUTS[kind]} ${file}`;
      return remark.now === null
        ? `${name} is no longer there.`
        : `${name} is not what was sealed: its SHA-256 was ${sha256.slice(0, 12)}… and is ${remark.now.slice(0, 12)}….`;
    }
    case 'verdict-moved':
      return `The verdict was ${remark.sealed.toUpperCase()} and is now ${remark.now.toUpperCase()}.`;
    case 'figure-moved': {
      const { sealed, now, difference, printed } = remark;
      const name = sealedOf(sealed);
      if (now === null) return `${name} was ${sealedFigure(sealed)} and is no longer derived.`;
      const by =
        difference === null || difference === '0'
          ? ''
          : `, moved by ${briefly(difference)}${wordless(sealed.unit)}`;
      return printed
        ? `${name} was ${sealedFigure(sealed)} and is now ${sealedFigure(now)}${by}.`
        : `${name} differs only in digits that are not printed${by}.`;
    }
    case 'outcome-moved': {
      const outcome = (one: string | null): string => one ?? 'not held against a figure';
      return `The limit on ${sealedOf(remark.limit)} was ${outcome(remark.sealed)} and is now ${outcome(remark.now)}.`;
    }
    case 'agreed-moved':
      return `${AGREED[remark.what]} came out differently from the same files.`;
    case 'other-tool':
      return `It was sealed by ${remark.tool}.`;
    case 'other-name':
      return `It was sealed under the name ${remark.file}.`;
    case 'limits-file-differs':
      return `${INPUTS[remark.input.kind]} ${remark.input.file} ${remark.now === null ? 'is gone' : 'has other bytes now'}; the limits it gave are the same.`;
    case 'figures-new':
      return `Not derived when it was sealed: ${list(remark.figures.map(sealedOf), 'and')}.`;
  }
}

/** A sealed figure as a verdict prints it. */
export function sealedFigure({ value, unit, u, bound }: SealedFigure): string {
  const sign = { exact: '', at_least: 'at least ', at_most: 'at most ' }[bound];
  if (unit === SEVERITY) return `${sign}${value}`;
  const printed = shown(new Decimal(value), new Decimal(u ?? 0).times(2));
  return `${sign}${printed.value}${printed.U === '' ? '' : ` ± ${printed.U}`}${wordless(unit)}`;
}

/** A difference to two digits; of a very small one with its power of ten. */
function briefly(decimal: string): string {
  const value = new Decimal(decimal).toSignificantDigits(2);
  return value.abs().lt('1e-6') ? value.toExponential() : value.toFixed();
}

/** Degrees of freedom, which may be one. */
export const freedomWords = (freedom: number): string =>
  `${freedom} ${freedom === 1 ? 'degree' : 'degrees'} of freedom`;

/** A claim that the numbers support or refuse, of too few cartridges or machines or with failures; null where it is none. */
export function forTheseWords(
  { forThese }: Pick<Claim, 'forThese'>,
  { n, machines, failed }: { readonly n: number; readonly machines: number; readonly failed: number },
): string | null {
  if (forThese === null) return null;
  const tried = `${n} ${n === 1 ? 'cartridge' : 'cartridges'} in ${machines === 0 ? 'machines not named' : machines === 1 ? 'one machine' : `${machines} machines`}`;
  const fail = failed === 0 ? '' : `, and ${failed} failed`;
  return `For these ${tried} it is ${forThese === 'supported' ? 'supported' : 'not supported'}${fail}; that is too little to claim it of others. --few says that it is enough.`;
}

/** A claim that the cartridges alone would support, and the coverage keeps open; null where it is none. */
export function coverageDecides({ claim, lowerBound, clusteredLowerBound, commonU }: Group): string | null {
  if (claim === null || lowerBound === null || !commonU || commonU.isZero()) return null;
  const alone = clusteredLowerBound?.lt(lowerBound) ? clusteredLowerBound : lowerBound;
  if (claim.supported !== null || claim.forThese !== null || alone.lt(claim.pages)) return null;
  return `The cartridges alone support ${alone.toFixed(0)} pages; the coverage is uncertain by ± ${commonU.times(2).toFixed(0)}. A coverage known better would decide it.`;
}

/** Why a pool of some named machines has no bound over their means. */
export const unnamedWords = (cartridges: number): string =>
  `${cartridges} of the cartridges ${cartridges === 1 ? 'is of a trial that does' : 'are of trials that do'} not name the machine, so there is no bound over the machines’ means, which may be the lower one. Name the machine.`;

/** How many of a count of re-checked trials came out how. */
export function recheckSummary(counts: Readonly<Record<State, number>>): string {
  const all = STATES.reduce((sum, state) => sum + counts[state], 0);
  const each = STATES.filter((state) => counts[state] > 0).map((state) => `${counts[state]} ${state}`);
  return `${all} ${all === 1 ? 'trial' : 'trials'}: ${each.join(', ')}`;
}
/**
 * Which reading would decide an open limit, in a sentence; `largest` is the input that most of the figure's
 * uncertainty comes from.
 */
export function wouldDecide(reason: OpenReason, largest: Path | null): string {
  switch (reason.code) {
    case 'reading-missing':
    case 'no-readings':
      return `Read ${dotted(reason.path)}.`;
    case 'doubted':
      return `Check ${list(reason.readings, 'and')}; what is right is noted under "checked".`;
    case 'still-in-at-end':
    case 'only-at-least':
    case 'only-at-most':
      return 'Run the cartridge until exhausted, and note the meter (exhausted_at).';
    case 'within-guard-band':
      return largest === null
        ? 'A longer run.'
        : `Read ${dotted(largest)} with a finer instrument, or run longer.`;
    case 'container-changed':
      return 'List every container with its two weights.';
    case 'cartridge-changed':
      return 'List the cartridges with the meter readings at which they were fitted and taken out.';
    case 'no-such-part':
      return `A trial that has ${reason.part}.`;
    case 'divisor-zero':
      return `A run in which ${reason.divisor} is not zero.`;
    case 'capacities-differ':
      return 'Containers of one capacity.';
    case 'bounds-conflict':
      return 'Run the cartridges until exhausted, in the trial and in the reference run.';
    case 'logarithm-of-zero':
    case 'outside-formula':
    case 'coverage-zero':
    case 'usage-below-non-image':
    case 'not-given':
    case 'too-many-batches':
    case 'claim-above-expected':
    case 'error-above-margin':
    case 'no-margin':
      return `Check ${dotted(reason.path)}, and read it again.`;
  }
}
