import type { Problem } from '../problems/problem.ts';
import { SEVERITIES } from '../trial/schema/severities.ts';
import { sameTyped, typed } from '../trial/serial.ts';
import type { Check } from './check.ts';

/** Findings at delivery of cartridges that were not tried here do not judge this trial: that is said. */
export const deliveredBeside: Check = ({ trial: { run } }) => {
  const [first] = run.delivered;
  if (first === undefined) return [];
  const worst = Math.max(...run.delivered.map(({ severity }) => SEVERITIES.indexOf(severity ?? 'none')));
  return [
    {
      code: 'delivered-beside',
      cartridges: new Set(
        run.delivered.map(({ serial, lot }) => JSON.stringify([serial && typed(serial), lot])),
      ).size,
      worst: SEVERITIES[worst] ?? 'none',
      untold:
        run.cartridges.some(({ serial }) => serial === null) ||
        run.delivered.some(({ stage }) => stage !== 'delivery'),
      path: first.path,
    },
  ];
};

/** A finding names a cartridge of the trial, if it names one. */
export const findingsKnown: Check = ({ trial: { run } }) => {
  const unknown = (run.inspection ?? []).filter(
    ({ serial }) => serial !== null && !run.cartridges.some((one) => sameTyped(one.serial, serial)),
  );
  const [first] = unknown;
  if (first?.serial == null) return [];
  const problem: Problem = {
    code: 'finding-of-unknown-serial',
    serial: first.serial,
    findings: unknown.length,
    path: [...first.path, 'serial'],
  };
  return [problem];
};
