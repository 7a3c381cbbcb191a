import { dot, lineY, ruleX, text } from '@observablehq/plot';
import { type Accepted, curveOf } from '../../lot/characteristic.ts';
import type { LotRule } from '../../lot/rule.ts';
import { shareOf, type Terms } from '../../lot/terms.ts';
import type { Picture } from '../content.ts';
import { ACCENT, forBoth, INK, namedBelow, PAPER, picture, QUIET, tick } from './draw.ts';

interface Agreed {
  readonly word: string;
  readonly share: number;
  readonly accepted: number;
}

/** In percent, with one place. */
const percentOf = (part: number): number => Number((100 * part).toFixed(1));

/** How often lots are accepted by a rule, by the share of their cartridges that fail. */
export function characteristicPicture(lot: string, rule: LotRule, terms: Terms): Picture {
  const { size, limiting, acceptable } = terms;
  const share = (failing: number): number => Number(shareOf(failing, size).toFixed(4));
  const curve = curveOf(rule, terms);
  const acceptedAt = (failing: number): number =>
    percentOf(curve.find((one) => one.failing === failing)?.accepted ?? 0);
  const agreed: readonly Agreed[] = [
    ...(acceptable === null ? [] : [{ word: 'acceptable quality', failing: acceptable.failing }]),
    { word: 'limiting quality', failing: limiting.failing },
  ].map(({ word, failing }) => ({ word, share: share(failing), accepted: acceptedAt(failing) }));
  const drawn = curve.map(({ failing, accepted }: Accepted) => ({
    share: share(failing),
    accepted: 100 * accepted,
  }));
  const title = `How often lot ${lot} would be accepted, by its failing share`;
  return picture({
    title,
    alternative: [
      'Share of the lot that fails, and how often such a lot is accepted:',
      ...told(curve).map(({ failing, accepted }) => `${tick(share(failing))} %: ${percentOf(accepted)} %;`),
      ...agreed.map(
        (one) => `at the ${one.word}, ${tick(one.share)} %, it is accepted in ${one.accepted} % of cases.`,
      ),
    ].join(' '),
    key: `Line: how often a lot of that quality is accepted, exact for a lot of ${size}. Open circle, dashed upright: the ${agreed.map(({ word }) => word).join(', the ')}.`,
    ...forBoth((slim) => ({
      options: {
        height: 280,
        marginLeft: 56,
        marginRight: 24,
        marginTop: 40,
        marginBottom: 46,
        x: {
          type: 'linear',
          domain: [0, Math.max(...drawn.map((one) => one.share))],
          ...namedBelow('share of the lot that fails, %'),
          ticks: slim ? 4 : 8,
          tickFormat: tick,
        },
        y: { domain: [0, 100], label: null, ticks: 5, tickFormat: tick },
      },
      marks: [
        ruleX(agreed, { x: 'share', stroke: QUIET, strokeDasharray: '7 4' }),
        lineY(drawn, { x: 'share', y: 'accepted', stroke: ACCENT, strokeWidth: 2 }),
        dot(agreed, { x: 'share', y: 'accepted', r: 5, fill: PAPER, stroke: INK, strokeWidth: 2 }),
        // Right of its point a label stands above the curve, which falls.
        text(agreed, {
          x: 'share',
          y: 'accepted',
          dx: 12,
          dy: -6,
          textAnchor: 'start',
          text: ({ word, accepted }: Agreed) => `${word}: ${accepted} %`,
        }),
        text(['accepted, % of cases'], {
          frameAnchor: 'top-left',
          dx: slim ? -40 : -50,
          dy: -34,
          textAnchor: 'start',
        }),
      ],
    })),
  });
}

/** So many points are told in words. */
const TOLD = 10;

const told = (curve: readonly Accepted[]): readonly Accepted[] => {
  const every = Math.max(1, Math.ceil(curve.length / TOLD));
  return curve.filter((_, index) => index % every === 0 || index === curve.length - 1);
};
