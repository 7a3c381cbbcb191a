/** What is above a risk by no more than rounding keeps to it. */
const ROUNDING = 1e-12;

/** Whether a chance keeps to a risk, both between 0 and 1. */
export const keeps = (chance: number, risk: number): boolean => chance <= risk * (1 + ROUNDING);
