import { meanOf, sumOf } from './sample.ts';

/** One value with the groups it belongs to: the outer one (a machine) and one inside it (an operator at it). */
export interface NestedValue {
  readonly value: number;
  readonly outer: string;
  readonly inner: string;
}

/** One source of scatter, estimated from a nested design. */
export interface Component {
  /** Null where the design does not tell it; zero where the estimate is negative. */
  readonly sd: number | null;
  /** Degrees of freedom of the mean square it comes from. */
  readonly freedom: number;
}

/** The scatter of values within groups, between inner and between outer groups, and of all together. */
export interface Nested {
  readonly within: Component;
  readonly inner: Component;
  readonly outer: Component;
  /** Of one more value from any group; null where `within` is. */
  readonly whole: { readonly sd: number; readonly freedom: number } | null;
}

/**
 * Components of variance by the analysis of variance of a nested design whose groups may differ in size: mean squares
 * set equal to their expectations, σ² + k₁σ²_inner and σ² + k₂σ²_inner + k₃σ²_outer; an estimate below zero is zero
 * (Searle, Casella and McCulloch, Variance Components (1992), 3.6 and appendix F; ISO 5725-2:1994, 7.4, for one
 * factor; both from memory). The degrees of freedom of the sum of all three by Satterthwaite's formula.
 */
export function nestedComponents(values: readonly NestedValue[]): Nested {
  const outers = grouped(values, ({ outer }) => outer);
  const N = values.length;
  const grand = meanOf(values.map(({ value }) => value));
  let [cells, squaresOuter, squaresInner, squaresWithin] = [0, 0, 0, 0];
  /** Σ nᵢ²/N, Σ Σ nᵢⱼ²/nᵢ and Σ Σ nᵢⱼ²/N. */
  let [ofOuter, ofInner, ofCells] = [0, 0, 0];
  for (const group of outers.values()) {
    const own = meanOf(group.map(({ value }) => value));
    squaresOuter += group.length * (own - grand) ** 2;
    ofOuter += group.length ** 2 / N;
    for (const cell of grouped(group, ({ inner }) => inner).values()) {
      const centre = meanOf(cell.map(({ value }) => value));
      cells += 1;
      squaresInner += cell.length * (centre - own) ** 2;
      squaresWithin += sumOf(cell.map(({ value }) => (value - centre) ** 2));
      ofInner += cell.length ** 2 / group.length;
      ofCells += cell.length ** 2 / N;
    }
  }
  const freedom = { within: N - cells, inner: cells - outers.size, outer: outers.size - 1 };
  const none = (of: number): Component => ({ sd: null, freedom: Math.max(of, 0) });
  if (freedom.within <= 0) {
    return { within: none(0), inner: none(freedom.inner), outer: none(freedom.outer), whole: null };
  }
  const within = squaresWithin / freedom.within;
  const msInner = freedom.inner > 0 ? squaresInner / freedom.inner : null;
  const inner = msInner === null ? 0 : Math.max(0, (msInner - within) / ((N - ofInner) / freedom.inner));
  const msOuter = freedom.outer > 0 ? squaresOuter / freedom.outer : null;
  const [k2, k3] = [(ofInner - ofCells) / freedom.outer, (N - ofOuter) / freedom.outer];
  const outer = msOuter === null ? 0 : Math.max(0, (msOuter - within - k2 * inner) / k3);
  const parts: (readonly [factor: number, square: number, freedom: number])[] = [];
  // The sum of the components, written in the mean squares that are independent of each other.
  const [a, b] = [outer > 0 ? 1 / k3 : 0, (N - ofInner) / freedom.inner];
  const ofMsInner = inner > 0 ? (1 - a * k2) / b : 0;
  if (msOuter !== null) parts.push([a, msOuter, freedom.outer]);
  if (msInner !== null) parts.push([ofMsInner, msInner, freedom.inner]);
  parts.push([1 - a - ofMsInner, within, freedom.within]);
  const variance = within + inner + outer;
  const spread = sumOf(parts.map(([factor, square, of]) => (factor * square) ** 2 / of));
  return {
    within: { sd: Math.sqrt(within), freedom: freedom.within },
    inner: msInner === null ? none(0) : { sd: Math.sqrt(inner), freedom: freedom.inner },
    outer: msOuter === null ? none(0) : { sd: Math.sqrt(outer), freedom: freedom.outer },
    whole: {
      sd: Math.sqrt(variance),
      freedom: spread === 0 ? freedom.within : variance ** 2 / spread,
    },
  };
}

function grouped<T>(values: readonly T[], keyOf: (value: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const value of values) {
    const group = groups.get(keyOf(value));
    if (group) group.push(value);
    else groups.set(keyOf(value), [value]);
  }
  return groups;
}
