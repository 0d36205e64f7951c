import { readingLimitsMm, type NewReading } from '../../app/editReadings.ts';
import type { Survey } from '../../core/survey.ts';
import { formatLength, keepWithin, parseLength, type Units } from '../units.ts';

/** A row that could not be read: which of the text (from 1), what it says, and why in words. */
export interface WrongRow {
  readonly row: number;
  readonly text: string;
  readonly reason: string;
}

/** What a pasted text holds. */
export interface ReadText {
  readonly readings: readonly NewReading[];
  readonly wrong: readonly WrongRow[];
  /** The lines above the first row that name the columns, to be kept with rows that are corrected. */
  readonly head: string;
}

type Column = keyof NewReading;
/** Which cell holds which column, and the unit its head names. */
type Order = readonly (readonly [column: Column, cell: number, unit: string])[];

const usualOrder: Order = [
  ['along', 0, ''],
  ['up', 1, ''],
  ['distance', 2, ''],
  ['sigma', 3, ''],
];

/** Words by which a head names a column, in the order in which they are tried. */
const columnWords: readonly (readonly [Column, RegExp])[] = [
  ['along', /\b(left|along|x)\b/i],
  ['up', /\b(floor|height|up|y)\b/i],
  ['sigma', /±|\+\/-|\b(sigma|uncertainty|spread)\b/i],
  ['distance', /\b(plane|distance|depth)\b/i],
  ['distance', /\b(reading|rule|wall)\b/i],
];
const headUnit = /[([ ](mm|cm|m|in|inch|inches|ft)[)\]]?\s*$/i;
const rowName = /^(r|no\.?|nr\.?|#)\s*\d+$/i;
/** A figure that is 1200 in one country and 1.2 in another. */
const twofold = /^[-−]?\d{1,3}[.,]\d{3}$/;

function splitRow(line: string): string[] {
  const parted = ['\t', ';'].find((mark) => line.includes(mark));
  const cells = line.split(parted ?? /\s{2,}/).map((cell) => cell.trim());
  while (cells.length > 1 && cells.at(-1) === '') cells.pop();
  if (parted || cells.length > 1) return cells;
  const bare = line.trim().split(/\s+/);
  return bare.length >= 3 && bare.every((cell) => /^[-−]?\d+([.,]\d+)?$/.test(cell)) ? bare : cells;
}

/** The order of columns that a head names; null when it does not name the three that are needed. */
function orderOf(head: readonly string[]): Order | null {
  const order: [Column, number, string][] = [];
  for (const [column, words] of columnWords) {
    if (order.some(([known]) => known === column)) continue;
    const cell = head.findIndex((text, k) => words.test(text) && !order.some(([, taken]) => taken === k));
    if (cell >= 0) order.push([column, cell, headUnit.exec(head[cell]!)?.[1] ?? '']);
  }
  const named = new Set(order.map(([column]) => column));
  return named.has('along') && named.has('up') && named.has('distance') ? order : null;
}

const names: Record<Column, string> = {
  along: 'from the left',
  up: 'from the floor',
  distance: 'plane to wall',
  sigma: '±',
};

/** One cell as a length, or why it is none. */
function readCell(text: string, column: Column, unit: string, survey: Survey): number | string {
  const { units, wall } = survey;
  const isBare = /[\d¼½¾⅛⅜⅝⅞]$/.test(text);
  if (isBare && twofold.test(text) && (unit || units) === 'mm')
    return `"${text}" can be ${text.replace(/[.,]/, '')} or ${Number(text.replace(',', '.').replace('−', '-'))}: write it without the ${text.includes(',') ? 'comma' : 'point'}`;
  const lengthMm = parseLength(isBare && unit ? `${text} ${unit}` : text, units);
  if (Number.isNaN(lengthMm)) return text === '' ? `${names[column]} is missing` : `"${text}" is no length`;
  const [least, most] = {
    along: [0, wall.width],
    up: [0, wall.height],
    distance: [readingLimitsMm.least, readingLimitsMm.most],
    sigma: [0.1, 20],
  }[column] as [number, number];
  const keptMm = keepWithin(lengthMm, least, most, units);
  if (!Number.isNaN(keptMm)) return keptMm;
  const limits = `${formatLength(least, units)} to ${formatLength(most, units)}`;
  return `${names[column]} ${formatLength(lengthMm, units)} is not within ${limits}`;
}

function readRow(cells: readonly string[], order: Order | null, survey: Survey): NewReading | string {
  const own = !order && cells.length > 3 && rowName.test(cells[0]!) ? cells.slice(1) : cells;
  if (!order && (own.length < 3 || own.length > 4))
    return `it has ${own.length === 1 ? '1 column' : `${own.length} columns`}, not 3 or 4`;
  const read: Partial<Record<Column, number>> = {};
  for (const [column, cell, unit] of order ?? usualOrder) {
    const text = own[cell] ?? '';
    if (column === 'sigma' && text === '') continue;
    const value = readCell(text, column, unit, survey);
    if (typeof value === 'string') return value;
    read[column] = value;
  }
  return read as NewReading;
}

/**
 * Readings out of rows pasted from a spreadsheet or a text: from the left, from the floor, plane to wall and perhaps ±, parted by tabs,
 * semicolons or several spaces; in another order where a head names the columns. A row that cannot be read says why.
 */
export function readReadings(text: string, survey: Survey): ReadText {
  const rows = text
    .split(/\r\n|\r|\n/)
    .map((line, k) => ({ row: k + 1, text: line.trimEnd(), cells: splitRow(line) }))
    .filter(({ text: line }) => line.trim() !== '');
  const hasLength = (cells: readonly string[]) =>
    cells.some((cell) => !Number.isNaN(parseLength(cell, survey.units)));
  const first = rows.findIndex(({ cells }) => hasLength(cells));
  if (first < 0)
    return {
      readings: [],
      wrong: rows.map((row) => ({ ...row, reason: 'there is no length in it' })),
      head: '',
    };
  const heads = rows.slice(0, first);
  const order = heads.map(({ cells }) => orderOf(cells)).find((each) => each !== null) ?? null;
  const readings: NewReading[] = [];
  const wrong: WrongRow[] = [];
  for (const { row, text: line, cells } of rows.slice(first)) {
    const read = readRow(cells, order, survey);
    if (typeof read === 'string') wrong.push({ row, text: line, reason: read });
    else readings.push(read);
  }
  return { readings, wrong, head: heads.map(({ text: line }) => line).join('\n') };
}

/** Whether a text is more than one length: rows or columns of them. */
export const isTable = (text: string): boolean =>
  text.trim().split(/[\r\n]+/).length > 1 || splitRow(text.trim()).length > 1;

const MM_PER: Record<Units, number> = { mm: 1, inch: 25.4 };

/** The readings as rows that a spreadsheet takes, in decimals: nothing is lost to fractions of an inch. */
export function writeReadings({ readings, units }: Pick<Survey, 'readings' | 'units'>): string {
  const unit = units === 'inch' ? 'in' : 'mm';
  const figure = (lengthMm: number) =>
    String(Number((lengthMm / MM_PER[units]).toFixed(units === 'inch' ? 4 : 2)));
  const head = [
    'No.',
    ...['From the left', 'From the floor', 'Plane to wall', '±'].map((name) => `${name} (${unit})`),
  ];
  const rows = readings.map(({ id, along, up, distance, sigma }) => [
    id,
    ...[along, up, distance, sigma].map(figure),
  ]);
  return [head, ...rows].map((cells) => cells.join('\t')).join('\n');
}
