import { describe, expect, test } from 'vitest';
import { confidenceOf } from '../../../src/core/line/confidence.ts';
import type { LineEvidence } from '../../../src/core/line/evidence.ts';

/** What a good laser line on a wall shows. */
const CLEAR: LineEvidence = {
  coverage: 0.95,
  excess: 40,
  colourContrast: 15,
  added: 1.2,
  yellow: -0.05,
  brightness: 1.1,
  width: 2.5,
  strength: 10,
  rivals: 0,
  scatter: 0.05,
  wander: 0.1,
  contrast: 40,
  suspect: 0.01,
  pieces: 1,
};

describe('confidenceOf', () => {
  test('a clear line is sure, and never more than sure', () => {
    expect(confidenceOf(CLEAR)).toBeGreaterThan(0.98);
    expect(confidenceOf({ ...CLEAR, coverage: 1, strength: 99, excess: 200 })).toBeLessThan(1);
  });

  test.each([
    ['less of the picture', { coverage: 0.3 }, { coverage: 0.1 }],
    ['much that looks like it', { rivals: 0.5 }, { rivals: 8 }],
    ['something white', { added: 3 }, { added: 12 }],
    ['paint, which takes light', { added: 0.5 }, { added: -0.5 }],
    ['lamps and leaves', { yellow: 0.2 }, { yellow: 0.8 }],
    ['dim', { brightness: 0.5 }, { brightness: 0.2 }],
    ['broad', { width: 8 }, { width: 25 }],
    ['in pieces', { pieces: 3 }, { pieces: 15 }],
    ['lopsided', { suspect: 0.4 }, { suspect: 1 }],
    ['uneven', { scatter: 0.4 }, { scatter: 1.5 }],
    ['wandering', { wander: 1 }, { wander: 8 }],
    ['hardly coloured', { excess: 10 }, { excess: 2 }],
  ] as [string, Partial<LineEvidence>, Partial<LineEvidence>][])(
    '%s: the more, the less sure',
    (_, some, more) => {
      expect(confidenceOf({ ...CLEAR, ...some })).toBeLessThan(confidenceOf(CLEAR));
      expect(confidenceOf({ ...CLEAR, ...more })).toBeLessThan(confidenceOf({ ...CLEAR, ...some }));
    },
  );

  test('nothing that is missing makes it NaN or sure', () => {
    const nothing = { ...CLEAR, coverage: 0, excess: 0, added: 0, brightness: 0, strength: 0, width: 0 };
    expect(confidenceOf(nothing)).toBeLessThan(0.05);
  });
});
