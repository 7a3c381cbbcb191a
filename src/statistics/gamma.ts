/**
 * ln Γ(x) for x > 0: Stirling's series, moved up by the recurrence until it holds 15 digits.
 * DLMF 5.5.1 (from memory).
 */
export function logGamma(x: number): number {
  let shift = 0;
  let at = x;
  while (at < 12) {
    shift += Math.log(at);
    at += 1;
  }
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + stirlingSeries(at) - shift;
}

/** What Stirling's main terms leave of ln Γ(x), to the last digit of it from 12 on: DLMF 5.11.1 (from memory). */
export function stirlingSeries(x: number): number {
  const inverse = 1 / (x * x);
  return (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse / 1188)))) / x;
}
