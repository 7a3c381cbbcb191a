/** How parts of a text are set off where colour is wanted; without colour every one leaves it as it is. */
export interface Paint {
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
  readonly good: (text: string) => string;
  readonly bad: (text: string) => string;
  readonly unsure: (text: string) => string;
}

const asIs = (text: string): string => text;

export const PLAIN: Paint = { strong: asIs, faint: asIs, good: asIs, bad: asIs, unsure: asIs };
