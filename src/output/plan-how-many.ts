import type { Plan } from '../plan/plan.ts';
import type { Planned } from '../plan/planned.ts';
import type { SampleSize } from '../plan/replicates.ts';
import { FEWEST_CARTRIDGES, FEWEST_MACHINES } from '../pool/group.ts';
import type { Layout } from '../statistics/claim-power.ts';
import { Decimal } from '../uncertainty/decimal.ts';
import { wrap } from './columns.ts';
import { harmless } from './harmless.ts';
import { tidy } from './numbers.ts';
import { reasonWords } from './reason-words.ts';

/** How many cartridges a plan asks for, and how fine a scale, in lines for people. */

function sampleSize(what: string, size: Planned<SampleSize>): string[] {
  if ('reason' in size) return wrap(harmless(`${what}: ${reasonWords(size.reason)}`), '  ', '    ');
  const { student, normal } = size.value;
  return wrap(`${what}: ${student} (Student's t; ${normal} if the deviation were known)`, '  ', '    ');
}

const layoutWords = ({ machines, each }: Layout): string =>
  `${each} in each of ${machines} machines (${machines * each})`;

/** What would support the claim by the rule `pool` decides with. */
function claimLines({ trial: { data }, replicates: { claim, confidence, power } }: Plan): string[] {
  if (claim === null) return [];
  const what = `To support ${data.target?.claim?.text ?? ''} pages with ${confidence.toFixed()} % confidence and ${power.toFixed()} % power`;
  if ('reason' in claim) return wrap(harmless(`${what}: ${reasonWords(claim.reason)}`), '  ', '    ');
  const [first, ...others] = claim.value.map(layoutWords);
  const alternatives = others.length === 0 ? '' : `; or ${others.join(', ')}`;
  const machines = data.target?.expected_machine_sd
    ? ''
    : ' Machines are taken as alike; target.expected_machine_sd says otherwise.';
  return wrap(`${what}: ${first ?? ''}${alternatives}.${machines}`, '  ', '    ');
}

export function howManyLines(plan: Plan): string[] {
  const { trial, replicates, scale } = plan;
  const { target } = trial.data;
  const { halfWidth, needed, failing, confidence } = replicates;
  const sure = `${confidence.toFixed()} %`;
  const lines = claimLines(plan);
  if (halfWidth) {
    lines.push(
      ...sampleSize(`To know the mean to ± ${target?.half_width?.text ?? ''} at ${sure}`, halfWidth),
    );
  }
  if (needed !== null) {
    lines.push(
      ...wrap(
        `Have ${needed}, over at least ${FEWEST_MACHINES} machines; never fewer than ${FEWEST_CARTRIDGES} (three machines with three each, as ISO/IEC 19752 is said to ask: second-hand, text not consulted).`,
        '  ',
        '    ',
      ),
    );
  }
  for (const { share, sizes } of failing) {
    const [none = 0, one = 0, two = 0] = sizes;
    lines.push(
      ...wrap(
        `To show at ${sure} that no more than ${share.toFixed()} % fail: ${none} with none failed, ${one} with one, ${two} with two.`,
        '  ',
        '    ',
      ),
    );
  }
  if ('value' in scale) {
    const { resolution, own, max } = scale.value;
    const fit =
      own === null
        ? ''
        : own.lte(resolution)
          ? ` The scale at hand (${tidy(own)} g) will do.`
          : ` The scale at hand (${tidy(own)} g) is too coarse.`;
    lines.push(
      ...wrap(
        `The scale: ${finely(resolution)} g or finer, so that the guard band takes no more than a tenth of the margin to ${tidy(max)} g of waste per thousand pages.${fit}`,
        '  ',
        '    ',
      ),
    );
  } else if (scale.reason.code !== 'not-given') {
    lines.push(...wrap(`The scale: ${reasonWords(scale.reason)}.`, '  ', '    '));
  }
  return lines;
}

/** Rounded down to two digits: what is printed is fine enough. */
const finely = (resolution: Decimal): string => tidy(resolution.toSignificantDigits(2, Decimal.ROUND_DOWN));
