/** Those of one key together, keys and members in their order. */
export function grouped<T>(all: Iterable<T>, keyOf: (one: T) => string): Map<string, [T, ...T[]]> {
  const groups = new Map<string, [T, ...T[]]>();
  for (const one of all) {
    const key = keyOf(one);
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [one]);
    else own.push(one);
  }
  return groups;
}
