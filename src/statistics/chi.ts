import { logGamma } from './gamma.ts';

/** A deviation estimated with so many degrees of freedom, over the true one, and how much weight it has. */
export type ChiNode = readonly [ratio: number, weight: number];

/**
 * Nodes and weights for means over s = χ/√ν, the estimated deviation of a normal sample over the true one; the
 * weights add up to 1. The trapezium rule in ln s, where the density falls off smoothly on both sides: there it gains
 * more digits with every step than any rule of a fixed order. What lies beyond the nodes is about e^(−2√steps) of it:
 * less than is lost between them. Without a degree of freedom, nothing is estimated: the one node is the true deviation.
 */
export function chiNodes(freedom: number, steps: number): ChiNode[] {
  if (freedom === 0) return [[1, 1]];
  const reach = (2 * Math.sqrt(steps)) / freedom;
  // P(s ≤ x) is below (e x²)^(ν/2), and P(s ≥ 1 + √(2r)) below e^(−νr): Chernoff's bound, and that of the length of a
  // normal vector (both from memory).
  const low = -(reach + Math.min(0.5, Math.sqrt(reach)));
  const high = Math.log1p(Math.sqrt(2 * reach));
  const constant = Math.log(2) + (freedom / 2) * Math.log(freedom / 2) - logGamma(freedom / 2);
  const width = (high - low) / steps;
  return Array.from({ length: steps }, (_, i): ChiNode => {
    const y = low + i * width;
    const s = Math.exp(y);
    return [s, width * Math.exp(constant + freedom * y - (freedom * s * s) / 2)];
  });
}
