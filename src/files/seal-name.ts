const ENDING = '.seal.json';

/** The seal of a trial stands beside it. */
export const sealNameOf = (trial: string): string => `${trial}${ENDING}`;

export const isSealName = (name: string): boolean => name.endsWith(ENDING) && name.length > ENDING.length;

/** The trial that a seal is of. */
export const trialNameOf = (seal: string): string => seal.slice(0, -ENDING.length);
