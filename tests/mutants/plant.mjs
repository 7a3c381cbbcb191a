import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import ts from 'typescript';

/**
 * A small fault in one expression: where it is, what is there and what is put in its place.
 *
 * @typedef {{ file: string, line: number, start: number, end: number, was: string, now: string }} Fault
 */

const ROOMS = ['figures', 'statistics', 'judge', 'pool', 'checks'];

/** The other sign, or the same comparison with its edge on the other side. */
const OPERATORS = new Map([
  ['+', '-'],
  ['-', '+'],
  ['*', '/'],
  ['/', '*'],
  ['**', '*'],
  ['<', '<='],
  ['<=', '<'],
  ['>', '>='],
  ['>=', '>'],
  ['===', '!=='],
  ['!==', '==='],
  ['&&', '||'],
  ['||', '&&'],
  ['+=', '-='],
  ['-=', '+='],
]);

const METHODS = new Map([
  ['plus', 'minus'],
  ['minus', 'plus'],
  ['div', 'times'],
  ['lt', 'lte'],
  ['lte', 'lt'],
  ['gt', 'gte'],
  ['gte', 'gt'],
  ['min', 'max'],
  ['max', 'min'],
  ['some', 'every'],
  ['every', 'some'],
  ['floor', 'ceil'],
  ['ceil', 'floor'],
]);

/** Calls that a value can do without, and then is another. */
const LEFT_OUT = new Set(['abs', 'filter', 'toSorted', 'sqrt']);

/** Counts of steps and caps are larger; one more of them is no fault. */
const LARGEST = 1000;

/** What may be put in place of a node, as text; none for most. */
function changes(node, text) {
  const of = (part) => part.getText();
  if (ts.isBinaryExpression(node)) {
    const { left, operatorToken, right } = node;
    const other = OPERATORS.get(of(operatorToken));
    const words = [left, right].some((side) => ts.isStringLiteralLike(side) || ts.isTemplateExpression(side));
    return other === undefined || words ? [] : [`${of(left)} ${other} ${of(right)}`];
  }
  if (ts.isPrefixUnaryExpression(node)) {
    const { operator, operand } = node;
    return operator === ts.SyntaxKind.ExclamationToken || operator === ts.SyntaxKind.MinusToken
      ? [of(operand)]
      : [];
  }
  if (ts.isNumericLiteral(node)) {
    const value = Number(node.text);
    if (value === LARGEST) return ['100'];
    return value > LARGEST ? [] : [String(Number.isInteger(value) ? value + 1 : value * 1.1)];
  }
  if (node.kind === ts.SyntaxKind.TrueKeyword) return ['false'];
  if (node.kind === ts.SyntaxKind.FalseKeyword) return ['true'];
  if (ts.isConditionalExpression(node)) {
    return [`!(${of(node.condition)}) ? ${of(node.whenTrue)} : ${of(node.whenFalse)}`];
  }
  if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression)) {
    const { expression: object, name } = node.expression;
    if (LEFT_OUT.has(name.text) && of(object) !== 'Math') return [of(object)];
    const other = METHODS.get(name.text);
    const from = name.getStart();
    return other === undefined
      ? []
      : [text.slice(node.getStart(), from) + other + text.slice(name.end, node.end)];
  }
  if (ts.isIfStatement(node.parent) && node.parent.expression === node) return ['true', 'false'];
  return [];
}

/** Names and types are no values. */
const isNoValue = (node) =>
  ts.isTypeNode(node) ||
  ts.isImportDeclaration(node) ||
  ts.isInterfaceDeclaration(node) ||
  ts.isTypeAliasDeclaration(node);

/** @returns {Fault[]} */
function faultsIn(root, file) {
  const text = readFileSync(join(root, file), 'utf8');
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const found = [];
  const look = (node) => {
    if (isNoValue(node)) return;
    const isName = 'name' in node.parent && node.parent.name === node;
    const isTarget =
      ts.isBinaryExpression(node.parent) && node.parent.left === node && ts.isArrayLiteralExpression(node);
    if (!isName && !isTarget) {
      const [start, end] = [node.getStart(), node.end];
      const { line } = source.getLineAndCharacterOfPosition(start);
      for (const now of changes(node, text)) {
        found.push({ file, line: line + 1, start, end, was: text.slice(start, end), now });
      }
    }
    ts.forEachChild(node, look);
  };
  ts.forEachChild(source, (node) => look(node));
  return found;
}

/** Every fault that could be planted, in the order of the files. */
export function allFaults(root) {
  const files = ROOMS.flatMap((room) =>
    readdirSync(join(root, 'src', room), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => relative(root, join(root, 'src', room, name)))
      .toSorted(),
  );
  return files.flatMap((file) => faultsIn(root, file));
}

/** Numbers between 0 and 1, the same for the same seed (mulberry32). */
function random(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const overlap = (a, b) => a.file === b.file && a.start < b.end && b.start < a.end;

/** So many of the faults by chance, none inside another, since they are planted all at once. */
export function drawn(faults, seed, count) {
  const next = random(seed);
  const left = [...faults];
  const chosen = [];
  while (chosen.length < count && left.length > 0) {
    const [fault] = left.splice(Math.floor(next() * left.length), 1);
    if (!chosen.some((other) => overlap(fault, other))) chosen.push(fault);
  }
  return chosen;
}

const inOneLine = (text) => text.replace(/\s+/g, ' ').trim();

/**
 * Faults looked at one by one, of which no reading could tell: `harmless/ROOM.json` has a file, the line of its text in
 * which the fault begins, the fault, and why nothing follows from it. Lines that are gone are for those who keep the list.
 *
 * @returns {{ isHarmless: (fault: Fault) => boolean, gone: { file: string, line: string }[] }}
 */
export function harmless(root) {
  const folder = join(root, 'tests', 'mutants', 'harmless');
  const known = readdirSync(folder).flatMap((name) => JSON.parse(readFileSync(join(folder, name), 'utf8')));
  const texts = new Map();
  const linesOf = (file) => {
    if (!texts.has(file)) texts.set(file, readFileSync(join(root, file), 'utf8').split('\n').map(inOneLine));
    return texts.get(file);
  };
  return {
    isHarmless: ({ file, line, was, now }) =>
      known.some(
        (one) =>
          one.file === file &&
          one.line === linesOf(file)[line - 1] &&
          one.was === inOneLine(was) &&
          one.now === inOneLine(now),
      ),
    gone: known.filter(({ file, line }) => !existsSync(join(root, file)) || !linesOf(file).includes(line)),
  };
}

/** A fault given as text, where `was` stands in the file once; null where the sources have changed. */
export function written(root, { file, was, now }) {
  const text = existsSync(join(root, file)) ? readFileSync(join(root, file), 'utf8') : '';
  const start = text.indexOf(was);
  if (start < 0 || text.indexOf(was, start + 1) >= 0) return null;
  return { file, line: text.slice(0, start).split('\n').length, start, end: start + was.length, was, now };
}

/** Faults of one expression are beside each other in it. */
function byStart(faults) {
  const places = new Map();
  for (const fault of faults) places.set(fault.start, [...(places.get(fault.start) ?? []), fault]);
  return places;
}

/** A plugin of esbuild that plants faults beside what is there; `globalThis.planted(number)` says which one is taken. */
export const planting = (root, faults) => ({
  name: 'planting',
  setup(build) {
    const numbered = faults.map((fault, number) => ({ ...fault, number }));
    build.onLoad({ filter: /\.ts$/ }, ({ path }) => {
      const own = numbered.filter(({ file }) => join(root, file) === path);
      if (own.length === 0) return undefined;
      const contents = [...byStart(own).values()]
        .toSorted((a, b) => b[0].start - a[0].start)
        .reduce(
          (text, [first, ...others]) => {
            const choice = [first, ...others].reduce(
              (rest, { now, number }) => `(globalThis.planted(${number}) ? (${now}) : ${rest})`,
              `(${first.was})`,
            );
            return `${text.slice(0, first.start)}${choice}${text.slice(first.end)}`;
          },
          readFileSync(path, 'utf8'),
        );
      return { contents, loader: 'ts' };
    });
  },
});
