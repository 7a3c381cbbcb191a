import type { Claim, Group } from '../pool/group.ts';

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
