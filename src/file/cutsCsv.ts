import type { LiningPlan } from '../core/results.ts';
import { writeCell } from './screwsCsv.ts';

const columns = ['sheet', 'piece', 'x_mm', 'y_mm', 'width_mm', 'length_mm', 'turn_deg', 'mass_kg'] as const;

const toTenth = (value: number) => Math.round(value * 10) / 10 || 0;

/**
 * The list of cuts as CSV (RFC 4180, lines end in CR LF), lengths in mm whatever the survey shows: each piece on its stock board,
 * from that board's lower left corner as it lies there, how it is turned, and its mass where it is a board.
 */
export function writeCutsCsv({
  boards,
  reveals,
  cutting,
}: Pick<LiningPlan, 'boards' | 'reveals' | 'cutting'>): string {
  const massKg = new Map([...boards, ...reveals].map(({ id, massKg }) => [id, massKg]));
  const rows = cutting.sheets.flatMap((sheet) =>
    sheet.pieces.map(({ piece, x, y, width, length, turn }) => {
      const mass = massKg.get(piece);
      const figures = [x, y, width, length].map(toTenth);
      return [sheet.id, piece, ...figures, turn, mass === undefined ? '' : toTenth(mass)];
    }),
  );
  return [columns, ...rows].map((row) => `${row.map(writeCell).join(',')}\r\n`).join('');
}
