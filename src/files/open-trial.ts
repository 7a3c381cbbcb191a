import { dirname, join } from 'node:path';
import { CATALOGUE } from '../figures/list.ts';
import type { Fault } from '../problems/problem.ts';
import { LARGEST_TABLE } from '../text/table.ts';
import { type ReadTrial, readTrial } from '../trial/read.ts';
import type { OpenTable, TableText } from '../trial/table/with-tables.ts';
import { decode } from '../world/decode.ts';
import type { Io } from '../world/io.ts';
import { rasterFaultWords } from '../output/raster-words.ts';
import type { OpenDocument } from '../trial/document/with-documents.ts';
import { openBelow } from './below.ts';
import { counted, LARGEST_DOCUMENT } from './document.ts';
import { usageFrom } from './usage.ts';
import { open, type Used } from './open.ts';

/** A trial as it was read, with the files it stands in: its own first, then the tables, documents and usage files it names. */
export interface OpenedTrial extends ReadTrial {
  readonly used: readonly Used[];
}

const MEBIBYTE = 1024 * 1024;

/** Opens a trial's file, and the tables, documents and usage files it names, each read once, and reads the trial. */
export function openTrial(file: string, io: Io): OpenedTrial {
  const { source, bytes } = open(io, file);
  const used: Used[] = [];
  const read = readTrial(source, CATALOGUE, tablesOf(file, used, io), {
    document: documentsOf(file, used, io),
    usage: (name) => usageFrom(name, file === '-' ? '.' : dirname(file), name, used, io),
  });
  const unopened = read.problems.find(({ code }) => code === 'file-unreadable');
  const why = unopened?.code === 'file-unreadable' ? unopened.why : null;
  return { ...read, used: [{ kind: 'trial', file, bytes, why }, ...used] };
}

/** Opens the tables of a trial, from its folder or below, and adds each to those that were used. */
export function tablesOf(file: string, used: Used[], io: Io): OpenTable {
  const folder = file === '-' ? '.' : dirname(file);
  const opened = (table: string): { bytes: Uint8Array | null; read: TableText | Fault } => {
    const found = openBelow(table, folder, LARGEST_TABLE, io);
    if ('bytes' in found) {
      const decoded = decode(found.bytes, LARGEST_TABLE);
      if ('problem' in decoded && decoded.problem.code === 'other-kind')
        return { bytes: found.bytes, read: { code: 'table-other-kind', table, kind: decoded.problem.kind } };
      const why = 'it is not UTF-8 text; save it again as UTF-8';
      if ('problem' in decoded) return { bytes: found.bytes, read: { code: 'table-unreadable', table, why } };
      return { bytes: found.bytes, read: { file: join(folder, table), text: decoded.text } };
    }
    if (found.trouble === 'unreadable')
      return { bytes: null, read: { code: 'table-unreadable', table, why: found.why } };
    if (found.trouble === 'outside') return { bytes: null, read: { code: 'table-outside', table } };
    return {
      bytes: null,
      read: { code: 'table-too-large', table, mebibytes: LARGEST_TABLE / MEBIBYTE },
    };
  };
  return (table) => {
    const { bytes, read } = opened(table);
    const why = 'code' in read && read.code === 'table-unreadable' ? read.why : null;
    used.push({ kind: 'table', file: table, bytes, why });
    return read;
  };
}

/** Counts the documents of a trial, from its folder or below, and adds each to those that were used. */
function documentsOf(file: string, used: Used[], io: Io): OpenDocument {
  const folder = file === '-' ? '.' : dirname(file);
  return (document) => {
    const use = (bytes: Uint8Array | null, why: string | null = null): void => {
      used.push({ kind: 'document', file: document, bytes, why });
    };
    const found = openBelow(document, folder, LARGEST_DOCUMENT, io);
    if ('bytes' in found) {
      use(found.bytes);
      const count = counted(found.bytes, io.digest(found.bytes));
      if (!('code' in count)) return count;
      return { code: 'document-unreadable', document, why: rasterFaultWords(count) };
    }
    use(null, found.trouble === 'unreadable' ? found.why : null);
    switch (found.trouble) {
      case 'outside':
        return { code: 'document-outside', document };
      case 'too-large':
        return { code: 'document-too-large', document, mebibytes: LARGEST_DOCUMENT / MEBIBYTE };
      case 'unreadable':
        return { code: 'document-unreadable', document, why: found.why };
    }
  };
}
