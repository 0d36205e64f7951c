import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { GaugeScrew } from '../../src/core/results.ts';
import { writeCell, writeScrewsCsv } from '../../src/file/screwsCsv.ts';

const screw: GaugeScrew = {
  id: 'A1',
  board: 'A',
  along: 60,
  up: 72.04,
  projection: 12.349,
  sigma: 0.716,
  fromLaser: -3.26,
  zone: 'normal',
  screwMm: 60,
  services: null,
};

test('a row for each screw, units in the header, lines end in CR LF', () => {
  expect(
    writeScrewsCsv({
      screws: [screw, { ...screw, id: 'A2', fromLaser: -0.01, screwMm: null, services: 'end' }],
    }),
  ).toBe(
    'number,board,along_mm,up_mm,projection_mm,sigma_mm,from_laser_mm,zone,screw_mm,services\r\n' +
      'A1,A,60,72,12.3,0.72,-3.3,normal,60,\r\n' +
      'A2,A,60,72,12.3,0.72,0,normal,,end\r\n',
  );
});

test('negative numbers stay numbers, texts that a spreadsheet would run are guarded', () => {
  expect([-3.3, '-3.3', '+4', 0].map(writeCell)).toEqual(['-3.3', '-3.3', '+4', '0']);
  expect(['=A1', '+A1', '-A1', '@A1', '-1-1', '\tx'].map(writeCell)).toEqual([
    "'=A1",
    "'+A1",
    "'-A1",
    "'@A1",
    "'-1-1",
    "'\tx",
  ]);
});

/** Cells of one CSV line by the grammar of RFC 4180, section 2. */
function readLine(line: string): string[] {
  const cells: string[] = [];
  for (let rest = line; ;) {
    const quoted = /^"((?:[^"]|"")*)"(,|$)/.exec(rest);
    const plain = /^([^",\r\n]*)(,|$)/.exec(rest);
    const match = quoted ?? plain;
    if (!match) throw new Error(`no CSV: ${rest}`);
    cells.push(quoted ? match[1]!.replaceAll('""', '"') : match[1]!);
    if (match[2] === '') return cells;
    rest = rest.slice(match[0].length);
  }
}

test('law: cells read back as they were, whatever is in them', () => {
  const cell = fc.string({ unit: fc.constantFrom('a', 'ü', '"', ',', '\n', '\r', ' ', '1', '.') });
  fc.assert(
    fc.property(fc.array(cell, { minLength: 1, maxLength: 5 }), (cells) => {
      const expected = cells.map((each) => (each.startsWith('\r') ? `'${each}` : each));
      expect(readLine(cells.map(writeCell).join(','))).toEqual(expected);
    }),
    { seed: 4 },
  );
});
