import type { Input } from '../uncertainty/measured.ts';
import { dotted } from '../uncertainty/path.ts';

/** What an input of a budget is called: its place in the file, and whether it is the scatter of the readings there. */
export const inputName = ({ path, readings }: Input): string =>
  readings === undefined ? dotted(path) : `${dotted(path)} (scatter of ${readings})`;
