import { expect, test } from 'vitest';
import type { StockSheet } from '../../src/core/liningPlan.ts';
import type { Board, LiningPlan } from '../../src/core/results.ts';
import { writeCutsCsv } from '../../src/file/cutsCsv.ts';

const sheet = (id: string, pieces: StockSheet['pieces']): StockSheet => ({
  id,
  width: 1200,
  length: 2400,
  pieces,
  offcuts: [],
  cuts: 1,
});
const plan = {
  boards: [{ id: 'A', massKg: 24.77 } as Board],
  reveals: [{ id: 'o1 left', opening: 'o1', side: 'left', width: 120, length: 1200, massKg: 1.24 }],
  cutting: {
    sheets: [
      sheet('s1', [{ piece: 'A', x: 0, y: 0, width: 1200, length: 2399.96, turn: 0 }]),
      sheet('s2', [
        { piece: 'o1 left', x: 0, y: 0, width: 120, length: 1200, turn: 90 },
        { piece: 'packing', x: 120, y: 0, width: 100.25, length: 600, turn: 0 },
      ]),
    ],
    stock: [],
    cuts: 2,
    wasteShare: 0,
    sheetsLeast: 2,
    proven: true,
  },
} satisfies Pick<LiningPlan, 'boards' | 'reveals' | 'cutting'>;

test('a row for each piece on its stock board, with its mass where it has one', () => {
  expect(writeCutsCsv(plan).split('\r\n')).toEqual([
    'sheet,piece,x_mm,y_mm,width_mm,length_mm,turn_deg,mass_kg',
    's1,A,0,0,1200,2400,0,24.8',
    's2,o1 left,0,0,120,1200,90,1.2',
    's2,packing,120,0,100.3,600,0,',
    '',
  ]);
});

test('nothing to cut is a head without rows', () => {
  expect(writeCutsCsv({ ...plan, cutting: { ...plan.cutting, sheets: [] } })).toBe(
    'sheet,piece,x_mm,y_mm,width_mm,length_mm,turn_deg,mass_kg\r\n',
  );
});
