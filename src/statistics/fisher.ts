import { incompleteBeta } from './student.ts';

/**
 * P(F ≥ `f`) of Fisher's F with `over` and `under` degrees of freedom, which need not be whole; for f ≥ 0. By the
 * incomplete beta function (DLMF 8.17, NIST/SEMATECH e-Handbook 1.3.6.6.5, from memory).
 */
export const fisherTail = (f: number, over: number, under: number): number =>
  incompleteBeta(under / (under + over * f), under / 2, over / 2);
