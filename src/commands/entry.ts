import { processIo } from './io.ts';
import { main } from './main.ts';
import { startWith } from './process.ts';

export const start = (): void => startWith(main);
export { main, processIo };
