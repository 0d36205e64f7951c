import { expect, test } from 'vitest';
import { nameCut, sayCuts, sayProof } from '../../../src/ui/boards/boardWords.ts';
import { lCutBoard, slopingBoard, uCutBoard } from '../../draw/boardCases.ts';

test('a cut has its name: U from one edge, L at a corner, a hole through the middle of the board', () => {
  expect(nameCut(uCutBoard)).toBe('cut on the left, U cut, 1 hole');
  expect(nameCut(lCutBoard)).toBe('L cut');
  expect(nameCut(slopingBoard)).toBe('cut on the right, sloping end, 1 hole');
  const inside = { ...lCutBoard, cutouts: [{ along: 1500, up: 2000, width: 300, height: 200 }] };
  expect(nameCut(inside)).toBe('window cut inside');
  expect(nameCut({ ...lCutBoard, cutouts: [] })).toBe('full width');
});

test('whether fewer boards might do is said as it was proven', () => {
  const cutting = { sheets: [], stock: [], cuts: 0, wasteShare: 0, sheetsLeast: 0, proven: true };
  const sheet = { id: 'S1', width: 1200, length: 2400, pieces: [], offcuts: [], cuts: 0 };
  const three = { ...cutting, sheets: [sheet, sheet, sheet] };
  expect(sayProof({ ...three, sheetsLeast: 3 })).toBe('3 stock boards: proven, fewer cannot do.');
  expect(sayProof({ ...three, sheetsLeast: 2, proven: false })).toMatch(
    /^3 stock boards: the best found; 1 fewer/,
  );
  expect(sayCuts(1)).toBe('1 cut in all');
});
