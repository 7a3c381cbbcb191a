import { filled, key, name, percentage, positive, quantity, section, slotName, text, time } from './leaf.ts';
import * as z from './zod.ts';

const milligrams = quantity({ unit: 'mg', least: 0 });

/** The schema of a usage file: toner a page against coverage, as `forecast` fitted it. */
export const usageSchema = () =>
  section({
    usage: filled('Toner a page against coverage.', () =>
      section({
        model: key('Model of the machine it was found in.', name),
        machines: key('Machines it was found in.', () => z.array(text())),
        until: key('The last day on which a trial of it ended.', time),
        trials: key('Files of the trials it comes from.', () => z.array(text())),
        slots: filled('What each slot takes.', () =>
          z.array(
            section({
              slot: key('Slot it is of.', slotName),
              m0: filled('Toner a page at no coverage, in mg.', milligrams),
              u_m0: filled('Its standard uncertainty, in mg.', milligrams),
              m1: key('Toner a page for each percent of coverage, in mg.', milligrams),
              u_m1: key('Its standard uncertainty, in mg.', milligrams),
              r: key('Correlation of both.', quantity({ unit: '1', least: -1, greatest: 1 })),
              degrees_of_freedom: key('How well the scatter is known.', quantity({ unit: '1', least: 0 })),
              cartridges: key(
                'Cartridges it was found with.',
                quantity({ unit: '1', whole: true, least: 1 }),
              ),
              from: key('Least coverage tried, in percent of the page.', percentage),
              to: key(
                'Greatest coverage tried, in percent of the page.',
                positive({ unit: '%', greatest: 400 }),
              ),
            }),
          ),
        ),
      }),
    ),
  });

/** What a usage file parses to. */
export type UsageData = z.output<ReturnType<typeof usageSchema>>;
