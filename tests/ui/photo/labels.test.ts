import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeLabels } from '../../../src/ui/photo/labels.ts';

const frame = { width: 366, height: 274 };

test('a label stands right above its mark, and elsewhere only where the edge or another label is in the way', () => {
  const marks = [
    { x: 100, y: 100, label: '1: 100' },
    { x: 350, y: 100, label: '2: 3500' },
    { x: 120, y: 96, label: '3: 1200' },
    { x: 60, y: 4, label: '4: 700' },
    { x: 160, y: 180, label: '5: 620' },
    { x: 160, y: 184, label: '6: 620' },
  ];
  expect(placeLabels(marks, frame)).toEqual([
    { right: false, above: true }, // mark 3 is where its label would be
    { right: false, above: true }, // the edge
    { right: true, above: true },
    { right: true, above: false }, // the edge
    { right: true, above: true },
    { right: false, above: true }, // label 5
  ]);
});

test('every mark has a place, and the same marks the same places', () => {
  const mark = fc.record({ x: fc.nat(366), y: fc.nat(274), label: fc.constantFrom('1: 100', '12: 3500') });
  fc.assert(
    fc.property(fc.array(mark, { maxLength: 12 }), (marks) => {
      const places = placeLabels(marks, frame);
      expect(places.length).toBe(marks.length);
      expect(placeLabels(marks, frame)).toEqual(places);
    }),
    { seed: 81 },
  );
});
