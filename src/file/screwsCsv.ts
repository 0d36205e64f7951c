import type { LiningPlan } from '../core/results.ts';

const columns = [
  'number',
  'board',
  'along_mm',
  'up_mm',
  'projection_mm',
  'sigma_mm',
  'from_laser_mm',
  'zone',
  'screw_mm',
  'services',
] as const;

/**
 * One cell of a CSV file (RFC 4180, 2.5-2.7). A text that a spreadsheet would run as a formula gets a leading apostrophe;
 * plain numbers, negative ones too, stay numbers.
 * @example writeCell(-4.5) // '-4.5'
 * @example writeCell('=1+1') // "'=1+1"
 * @example writeCell('a, "b"') // '"a, ""b"""'
 */
export function writeCell(value: string | number): string {
  const text = String(value);
  const isNumber = /^[-+]?\d+(\.\d+)?$/.test(text);
  const guarded = /^[=+\-@\t\r]/.test(text) && !isNumber ? `'${text}` : text;
  return /[",\r\n]/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}

const toTenth = (mm: number) => Math.round(mm * 10) / 10 || 0;
const toHundredth = (mm: number) => Math.round(mm * 100) / 100 || 0;

/**
 * The list of gauge screws as CSV (RFC 4180, lines end in CR LF), lengths in mm whatever the survey shows: where each
 * stands, how far its head stands out of the wall with its sigma, how far that is from the laser's plane, the length to take from the
 * stock (empty = none is long enough), and what makes cables or pipes likely there: a box, `top` or `end` of the wall.
 */
export function writeScrewsCsv({ screws }: Pick<LiningPlan, 'screws'>): string {
  const rows = screws.map((screw) => [
    screw.id,
    screw.board,
    toTenth(screw.along),
    toTenth(screw.up),
    toTenth(screw.projection),
    toHundredth(screw.sigma),
    toTenth(screw.fromLaser),
    screw.zone,
    screw.screwMm === null ? '' : toTenth(screw.screwMm),
    screw.services ?? '',
  ]);
  return [columns, ...rows].map((row) => `${row.map(writeCell).join(',')}\r\n`).join('');
}
