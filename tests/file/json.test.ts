import fc from 'fast-check';
import { expect, test } from 'vitest';
import { writeJson } from '../../src/file/json.ts';

test('law: it reads back as JSON.parse of JSON.stringify', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(JSON.parse(writeJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
    }),
    { seed: 8, numRuns: 300 },
  );
});

test('groups of plain values stand on one line, long lists in filled lines', () => {
  const text = writeJson({ list: Array.from({ length: 60 }, (_, k) => k), group: { a: 1, b: [{ c: 'x' }] } });
  const lines = text.split('\n');
  expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(111);
  expect(lines.length).toBeLessThan(20);
  expect(text).toContain('{ "c": "x" }');
});

test('typed arrays are lists; NaN and infinities are null, undefined is no key', () => {
  expect(writeJson(Float64Array.of(1, NaN, Infinity))).toBe('[1, null, null]\n');
  expect(writeJson({ a: undefined, b: 2 })).toBe('{ "b": 2 }\n');
});
