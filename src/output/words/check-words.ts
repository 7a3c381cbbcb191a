import { millimetres, partsWords } from '../marks.ts';
import { list, figureWords, shortest, wordless, type Words } from './said.ts';

/** What a good supervisor would say of a judged trial. */
export const CHECK_WORDS = {
  'projections-differ': ({ slot, mass, gauge }) => ({
    say: `${slot === '' ? 'The cartridge' : `Cartridge ${slot}`} projects to ${mass} pages by weight and to ${gauge} by its gauge, further apart than both can explain.`,
    mend: 'Check the weights and fill_mass first; a gauge may count pages and not toner.',
  }),
  'residual-taken-as-zero': ({ slots }) => ({
    say: `The projected yield${slots.length === 0 ? '' : ` of ${list(slots, 'and')}`} takes the cartridge to its last gram: no residual_mass is given.`,
    mend: 'Weigh what stays in an exhausted cartridge and give it as residual_mass.',
  }),
  'far-from-reference': ({ slot, coverage, reference, pages, moved }) => ({
    say: `${slot === '' ? 'The yield' : `The yield of ${slot}`} was carried from ${coverage} % coverage to ${reference} % in proportion, a first-order model only (ASTM F685-96 (2006), abstract consulted: in proportion in theory, real losses depend on the machine): ${pages} pages. If ${list(moved.map(([share]) => `${share} %`))} of the toner went into pages of no coverage, it would be ${list(moved.map(([, at]) => at))} pages.`,
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
  'other-coverage-taken': ({ pages }) => ({
    say: `${pages} pages that are not of the trial have no coverage of their own: in yields at reference coverage they count for nothing, and these are at least what is said.`,
    mend: 'If you know their coverage, write it into the batch.',
  }),
  'other-waste-unknown': ({ pages }) => ({
    say: `The waste of ${pages} pages that are not of the trial is in the container: the waste of the trial is at most what was weighed.`,
    mend: 'Note such pages as a batch (other: true), and weigh the container before and after it (container_mass): their waste comes off.',
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
  'check-weight-off': ({ shown, nominal, off, more, allowed }) => ({
    say: `The scale showed the check weight of ${nominal} g as ${shown} g, ${off} g too ${more ? 'much' : 'little'}; its resolution and max_error allow ${allowed} g.`,
    mend: 'Nothing is corrected by it. Have the scale adjusted, or give the max_error it has, and weigh again what can be weighed.',
  }),
  'scale-drifts': ({ start, end, drift, up, allowed }) => ({
    say: `The scale showed the check weight as ${start} g at the start and ${end} g at the end: it drifted ${up ? 'up' : 'down'} by ${drift} g; its resolution and max_error allow ${allowed} g.`,
    mend: 'Nothing is corrected by it. A difference of two masses may be wrong by as much: let the scale warm up, and weigh again what can be weighed.',
  }),
  'calibration-ended': ({ instrument, until, day }) => ({
    say: `The calibration of the ${instrument} ended on ${until}; it was used on ${day}.`,
    mend: 'Have it calibrated and repeat the readings that decide.',
  }),
  'faster-than-rated': ({ pages, minutes, rated }) => ({
    say: `${pages} pages in ${minutes} minutes are more than the ${rated} pages a minute the machine is rated for.`,
    mend: 'Check the times and meter readings of this batch.',
  }),
  'container-change-unlisted': ({ changes, listed }) => ({
    say: `The waste container was changed ${changes === 1 ? 'once' : `${changes} times`}, but ${listed === 1 ? 'only one is' : `only ${listed} are`} listed: the waste in the others is missing.`,
    mend: 'List every container under "waste_container", in the order they were fitted, each with its own tare and final.',
  }),
  'cartridge-change-unlisted': ({ slot, changes, listed }) => ({
    say: `The cartridge${slot === '' ? '' : ` of ${slot}`} was changed ${changes === 1 ? 'once' : `${changes} times`}, but ${listed === 1 ? 'only one is' : `only ${listed} are`} listed.`,
    mend: 'List every cartridge that was fitted, in that order.',
  }),
  'serial-twice': ({ serial, first }) => ({
    say: `The cartridge of ${first === '' ? 'the run' : first} has the serial number ${serial} too.`,
    mend: 'Check both; each cartridge has its own.',
  }),
  'finding-of-unknown-serial': ({ serial, findings }) => ({
    say: `No cartridge of this trial has the serial number ${serial}; ${findings === 1 ? 'the finding is' : `it and the others of ${findings} such findings are`} held against this trial.`,
    mend: 'Correct it, or write the serial number of every cartridge under "cartridges".',
  }),
  'delivered-beside': ({ cartridges, worst, untold }) => ({
    say: untold
      ? `The inspection has ${cartridges === 1 ? 'a serial number' : `${cartridges} serial numbers`} that no cartridge of this trial has; the worst finding on ${cartridges === 1 ? 'it' : 'them'} is ${worst}. That proves nothing of this trial.`
      : `The inspection has ${cartridges === 1 ? 'a cartridge that was' : `${cartridges} cartridges that were`} looked at on delivery and not tried here; the worst finding on ${cartridges === 1 ? 'it' : 'them'} is ${worst}. That says nothing of this trial, and counts for the lot: "tallytare lot".`,
    mend: untold ? 'Correct it, or write the serial number of every cartridge under "cartridges".' : '',
  }),
  'slot-empty': ({ slot, from, to }) => ({
    say: `${slot === '' ? 'The slot' : `Slot ${slot}`} has no cartridge from meter ${from} to ${to}.`,
    mend: 'Check where the one was exhausted or taken out, and where the next was fitted; list every cartridge that was in it.',
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
  'mark-repeats': ({ distance, of, matches }) => ({
    say: `A mark repeats every ${millimetres(distance)}${of === null ? '' : ` in ${of}`}${matches === null ? '' : `: ${partsWords(matches)}`}.`,
    mend: matches === null ? 'Give the machine’s rotating_parts, and it is held against them.' : '',
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
  'within-uncertainty': ({ figure, of, stat, margin, U, unit, repeated, probability }) => ({
    say: `${figureWords(figure, of, stat)} is ${Number(margin) === 0 ? 'at its limit, and has an' : `${shortest(margin)}${wordless(unit)} from its limit, less than its`} uncertainty of ${shortest(U)}${wordless(unit)}: the true value keeps to the limit with a probability of ${probability}.`,
    mend: `${repeated ? 'Another trial' : 'A finer instrument or a longer run'} would tell; the guarded rule would leave this open.`,
  }),
  'events-few': ({ figure, of, stat, lower, upper }) => ({
    say: `${figureWords(figure, of, stat)} is counted from so few events that the true rate may be anywhere from ${shortest(lower)} to ${shortest(upper)}, and the limit lies between (exact bounds of a Poisson count, 97.7 % each).`,
    mend: 'A longer run would tell; the guarded rule would leave this open.',
  }),
} satisfies Partial<Words>;
