/** Columns of a table by what stands above them: common words, with or without a unit. */

/** A heading taken apart: its words, folded, and the unit behind them. */
export interface Heading {
  readonly text: string;
  readonly words: string;
  readonly unit: string | null;
}

/** The column, or the day and the clock apart, that a key is read from. */
export type Columns = ReadonlyMap<string, readonly number[]>;

/** What people write above a column, by the key it is read as; what is meant sooner stands before a semicolon. */
const WORDS: Readonly<Record<string, string>> = {
  at: 'time, date, datetime, date time, date and time, timestamp, time stamp, zeit, datum, datum zeit, datum uhrzeit, zeitpunkt, zeitstempel, uhrzeit, date heure, fecha, fecha hora, data, data ora, tijd, datum tijd',
  temperature:
    'temperature, temp, t, air temperature, room temperature, ambient temperature, temperatur, lufttemperatur, raumtemperatur, temperatura, temperatuur',
  humidity:
    'humidity, rh, r h, hum, relative humidity, rel humidity, air humidity, room humidity, feuchte, luftfeuchte, luftfeuchtigkeit, relative feuchte, rel feuchte, relative luftfeuchte, humidite, humidite relative, humedad, humedad relativa, umidita, umidita relativa, vochtigheid',
  end: 'meter, meter reading, meter end, end meter, counter, counter reading, page counter, zahlerstand, compteur, contador, contatore',
  started: 'start, start time, started at, begin, beginn, debut, inicio, inizio',
  finished: 'finish, finish time, end time, finished at, ende, fin, fine',
  container_mass: 'container, container weight, waste container, waste container mass, container mass g',
  note: 'finding, findings, defect, defects, fault, faults, what was found, befund, befunde, mangel, defaut, defauts, defecto, defectos, difetto, difetti, gebrek; note, notes, remark, remarks, comment, comments, bemerkung',
  serial:
    'serial, serial number, serial no, serial nr, serial n, s n, sn, seriennummer, serien nr, seriennr, numero de serie, n de serie, numero di serie, serienummer; cartridge, cartridge number, cartridge no, cartridge nr, number, no, nr',
  lot: 'lot number, lot no, batch, batch number, batch no, los, losnummer, charge, lote, lotto',
  severity: 'class, defect class, severity class, schwere, gravite, gravedad, gravita, ernst',
  part: 'component, where, place, teil, bauteil, ort, piece, pieza, parte, pezzo, onderdeel',
  slot: 'colour, color, farbe, couleur, colore, kleur',
};

/** Headings of the day alone and of the clock alone. */
const OF_DAY = setOf('date, day, datum, tag, fecha, data, jour');
const OF_CLOCK = setOf('time, clock, zeit, uhrzeit, heure, hora, ora, tijd');

/** The key of the time that a day and a clock together give. */
const CLOCKED = 'at';

function setOf(words: string): ReadonlySet<string> {
  return new Set(words.split(', '));
}

const UNITS: readonly (readonly [RegExp, string])[] = [
  [/^(?:[\u00b0\u00ba]\s*|deg\.?\s*)?c$|^celsius$/i, '°C'],
  [/^(?:[\u00b0\u00ba]\s*|deg\.?\s*)?f$|^fahrenheit$/i, '°F'],
  [/^k$/i, 'K'],
  [/^%\s*(?:r\.?\s?h\.?)?$/i, '%'],
  [/^mg$/, 'mg'],
  [/^g$/, 'g'],
  [/^kg$/, 'kg'],
  [/^pages?$/i, 'page'],
];

/** A unit at the end of a heading, set apart by a blank, a mark or a bracket; ° and % need none. */
const UNIT_BEHIND =
  /(?:[\s,;:/_([{-]+|(?=[\u00b0\u00ba%]))([\u00b0\u00ba%]?\s*(?:deg\.?\s*)?[a-z.]*)\s*[)\]}]*\s*$/i;

/** A heading taken apart. */
export function headingOf(text: string): Heading {
  const behind = UNIT_BEHIND.exec(text);
  const written = behind?.[1]?.trim() ?? '';
  const unit = UNITS.find(([known]) => known.test(written))?.[1] ?? null;
  const said = unit === null || behind === null ? text : text.slice(0, behind.index);
  return { text: text.trim(), words: folded(said), unit };
}

/** Small letters without accents; everything else is a blank. */
export const folded = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, ' ')
    .trim();

/** What is wrong with the choice of columns. */
export type HeadingFault =
  | { readonly fault: 'not-there'; readonly key: string; readonly heading: string }
  | { readonly fault: 'twice'; readonly key: string; readonly headings: readonly string[] };

/**
 * The columns of the keys, by their headings: those that `named` says, then by the key itself or common words for
 * it. A map under a key is read from headings as `cartridge_mass.black`.
 */
export function columnsOf(
  headings: readonly Heading[],
  keys: readonly string[],
  named: ReadonlyMap<string, readonly string[]>,
): { readonly columns: Columns; readonly faults: readonly HeadingFault[] } {
  const columns = new Map<string, readonly number[]>();
  const faults: HeadingFault[] = [];
  const taken = new Set<number>();
  const take = (key: string, found: readonly number[]): void => {
    columns.set(key, found);
    for (const one of found) taken.add(one);
  };
  for (const [key, wanted] of named) {
    const found = wanted.map((heading) => columnNamed(headings, heading));
    const missing = wanted.find((_, index) => found[index] === -1);
    if (missing === undefined) take(key, found);
    else faults.push({ fault: 'not-there', key, heading: missing });
  }
  const free = (fits: (words: string) => boolean): number[] =>
    headings.flatMap(({ words }, index) => (!taken.has(index) && fits(words) ? [index] : []));
  const day = free((words) => OF_DAY.has(words));
  const clock = free((words) => OF_CLOCK.has(words) && !OF_DAY.has(words));
  if (keys.includes(CLOCKED) && !named.has(CLOCKED) && day.length === 1 && clock.length === 1)
    take(CLOCKED, [...day, ...clock]);
  for (const key of keys) {
    if (columns.has(key) || named.has(key)) continue;
    const likely = (WORDS[key] ?? '').split('; ').map((words) => setOf(words));
    const last = likely.at(-1);
    const found =
      likely
        .map((common) => free((words) => common.has(words) || (common === last && words === folded(key))))
        .find((some) => some.length > 0) ?? [];
    if (found.length === 1) take(key, found);
    else if (found.length > 1) {
      const alike = found.map((index) => headings[index]?.text ?? '');
      faults.push({ fault: 'twice', key, headings: alike });
    }
  }
  for (const [index, { text, words }] of headings.entries()) {
    const [key] = /^[a-z_]+(?=\.)/.exec(text) ?? [];
    if (!taken.has(index) && key !== undefined && keys.includes(key) && words !== folded(key))
      take(text, [index]);
  }
  const inOrder = [...columns].toSorted(([a], [b]) => keys.indexOf(a) - keys.indexOf(b));
  return { columns: new Map(inOrder), faults };
}

/** The column of a heading as a trial names it: as it stands there, else without its unit. */
function columnNamed(headings: readonly Heading[], heading: string): number {
  const exactly = headings.findIndex(({ text }) => text === heading.trim());
  if (exactly !== -1) return exactly;
  const alike = headings.flatMap(({ text, words }, index) =>
    folded(text) === folded(heading) || words === folded(heading) ? [index] : [],
  );
  return alike.length === 1 ? (alike[0] ?? -1) : -1;
}
