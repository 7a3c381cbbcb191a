import { logGamma } from './gamma.ts';

/** A deviation estimated with so many degrees of freedom, over the true one, and how much weight it has. */
export type ChiNode = readonly [ratio: number, weight: number];

/** Beyond the nodes lies less than e⁻³² of it. */
const REACH = 32;

/**
 * Nodes and weights for means over s = χ/√ν, the estimated deviation of a normal sample over the true one; the
 * weights add up to 1. The trapezium rule in ln s, where the density falls off smoothly on both sides: there it gains
 * more digits with every step than any rule of a fixed order.
 */
export function chiNodes(freedom: number, steps: number): ChiNode[] {
  const reach = REACH / freedom;
  const [low, high] = [-(reach + Math.sqrt(reach)), Math.sqrt(reach)];
  const constant = Math.log(2) + (freedom / 2) * Math.log(freedom / 2) - logGamma(freedom / 2);
  const width = (high - low) / steps;
  return Array.from({ length: steps }, (_, i): ChiNode => {
    const y = low + i * width;
    const s = Math.exp(y);
    return [s, width * Math.exp(constant + freedom * y - (freedom * s * s) / 2)];
  });
}
