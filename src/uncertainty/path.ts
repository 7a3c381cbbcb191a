/** Where something stands in a trial file: keys and list positions, from the top. */
export type Path = readonly (string | number)[];

/** A path as people write it: `waste_container[1].final`, list positions counted from 1 as `#2`. */
export function dotted(path: Path): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number') text += `[${step + 1}]`;
    else text += text === '' ? step : `.${step}`;
  }
  return text;
}

/** The last key of a path, as written in the file. */
export function lastKey(path: Path): string | null {
  for (let i = path.length - 1; i >= 0; i--) {
    const step = path[i];
    if (typeof step === 'string') return step;
  }
  return null;
}
