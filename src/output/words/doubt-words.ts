import { cartridgeOf, list, type Words } from './said.ts';

/** Readings that cannot all be true, and what no limit speaks of. */
export const DOUBT_WORDS = {
  'interim-above-final': ({ mass, final }) => ({
    say: `The container weighs ${final} after the run, less than the ${mass} on the way.`,
    mend: 'Check the digits of both; if the container was changed, list both containers.',
  }),
  'interim-falls': ({ before, mass }) => ({
    say: `The container weighs ${mass} here, less than the ${before} at the checkpoint before.`,
    mend: 'Check the digits of both; if the container was changed, list both containers.',
  }),
  'cartridge-gains': ({ slot, before, mass }) => ({
    say: `${cartridgeOf(slot)} weighs ${mass} here, more than the ${before} at the weighing before.`,
    mend: 'Check the digits of both; if the cartridge was changed, list both cartridges.',
  }),
  'weighed-twice-apart': ({ first, second, at }) => ({
    say: `At meter ${at} the container weighs ${first} as a checkpoint and ${second} after the run.`,
    mend: 'Check the digits of both.',
  }),
  'weighings-apart': ({ written, others }) => ({
    say: `${written} is far from ${list(others, 'and')}, which ${others.length === 1 ? 'was' : 'were'} read of the same thing.`,
    mend: 'Weigh it again, and write what the scale shows then in its place.',
  }),
  'waste-rate-apart': ({ from, to, rate, others }) => ({
    say: `From meter ${from} to ${to} the waste is ${rate} g per thousand pages, in the rest of the run ${others} g.`,
    mend: 'Check the digits of the weights and of the meter at both ends.',
  }),
  'used-beyond-fill': ({ slot, used, fill }) => ({
    say: `${cartridgeOf(slot)} lost ${used} g, more than the ${fill} g of toner filled in.`,
    mend: 'Check start_mass, end_mass and fill_mass.',
  }),
  'used-before-beyond-fill': ({ slot, pages, used, fill }) => ({
    say: `${cartridgeOf(slot)} is said to have printed ${pages} pages before, but lost ${used} g of its ${fill} g of toner in this run: too little is left for them.`,
    mend: 'Check used_before, start_mass, end_mass and fill_mass.',
  }),
  'no-waste': ({ mass, pages }) => ({
    say: `After ${pages} pages the container weighs ${mass} g, as much as empty.`,
    mend: 'Weigh it again, and check that it was the one in the machine.',
  }),
  'fixing-gains': ({ before, after }) => ({
    say: `The density is ${after} after the rub or tape test, higher than the ${before} before it.`,
    mend: 'If the two were exchanged, swap them; else read both again on the same place.',
  }),
  'rolled-over-far': ({ start, end, pages, digits }) => ({
    say: `From meter ${start} to ${end} a counter of ${digits} digits would have counted ${pages} pages.`,
    mend: 'If the two were exchanged, swap them and take "digits" out; if the run was so long, note its checkpoints.',
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
  'unspoken-finding': ({ findings, of }) =>
    of === 'prints'
      ? {
          say: `${findings === 1 ? 'A print was' : `${findings} prints were`} judged critical by eye, and no limit speaks of prints judged by eye.`,
          mend: 'Agree on a limit, such as worst_print: {max: minor}.',
        }
      : {
          say: `${findings === 1 ? 'A critical finding was' : `${findings} critical findings were`} recorded, and no limit speaks of findings.`,
          mend: 'Agree on a limit, such as worst_finding: {max: minor}.',
        },
  'unspoken-failure': ({ cartridges }) => ({
    say: `${cartridges === 1 ? 'A cartridge' : `${cartridges} cartridges`} failed, and no limit speaks of failures.`,
    mend: 'Agree on a limit, such as failed_cartridges: {max: 0}.',
  }),
  'short-of-target': ({ pages, target }) => ({
    say: `The run ended after ${pages} of the ${target} pages planned.`,
    mend: 'If it goes on, leave the meter’s end empty until it is over, and note the reading under "batches". If less was agreed, change target.pages.',
  }),
  'waste-exceeds-toner': ({ waste, used }) => ({
    say: `The container holds ${waste} g of waste, the cartridges lost ${used} g; there cannot be more waste than toner.`,
    mend: 'Weigh again what can be weighed: the container (tare, final) and the cartridges (start_mass, end_mass).',
  }),
  'fraction-for-percent': ({ written, percent }) => ({
    say: `"${written}" is read as ${written} %.`,
    mend: `If ${percent} % is meant, write ${percent} %; else add the % sign.`,
  }),
  'sheets-differ': ({ counted, derived }) => ({
    say: `${counted} sheets were counted; pages and duplex share ask for ${derived}.`,
    mend: 'Check the duplex share and its basis, the count, and the meter.',
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
} satisfies Partial<Words>;
