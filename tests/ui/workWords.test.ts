import { describe, expect, test } from 'vitest';
import type { WorkCode, WorkFigures, WorkStep } from '../../src/core/liningPlan.ts';
import { cautionSentences, sayStep, workSentences } from '../../src/ui/workWords.ts';

const step = <C extends WorkCode>(code: C, figures: WorkFigures[C], of: string[] = ['A']) =>
  ({ id: code, stage: 'fix', code, of, figures, cautions: [] }) as unknown as WorkStep;
// any figure a sentence asks for, so that each can be made
const anything = new Proxy({} as WorkFigures[WorkCode], { get: () => 3 });

describe('the sentence of each step', () => {
  test.each(Object.keys(workSentences) as WorkCode[])('%s reads whole in mm and in inches', (code) => {
    for (const units of ['mm', 'inch'] as const) {
      const sentence = sayStep(step(code, anything), units);
      expect(sentence).toMatch(/^[A-Z].{30,}[.]$/s);
      expect(sentence).not.toMatch(/undefined|NaN|\[object|null| {2}/);
      if (units === 'inch') expect(sentence).not.toMatch(/\d mm\b/);
    }
  });
  test('names what it is about and its figures', () => {
    const board = { dabs: 24, strips: 1, volumeL: 8.64, massKg: 24.8, persons: 1, minutes: 11.2 };
    expect(sayStep(step('fix_board', board, ['B']), 'mm')).toBe(
      'Board B: put on 24 dabs and 1 strip (8.6 L), lift it on to the packers, press it home on the screws and check it with the straightedge; about 11 min.',
    );
    const mix = { powderKg: 8.32, waterL: 4.16, buckets: 2, restMin: 4, potLifeMin: 30, minutes: 24.6 };
    expect(sayStep(step('mix', mix, ['3', '4']), 'mm')).toBe(
      'Mixes 3 and 4, together: 8.3 kg of powder into 4.2 L of water in each bucket, 4 min to rest, then stir. In use for 25 min.',
    );
    const gaps = { floorGapMm: 12, ceilingGapMm: 5, lengthMm: 15900, boxes: 1 };
    expect(sayStep(step('seal_gaps', gaps), 'inch')).toBe(
      'Seal all round without a break (52 ft): 1/2 in at the floor, 3/16 in at the ceiling, ends and openings, and round 1 box.',
    );
  });
  test('tells a plane parallel to the laser from one that is turned, before it or leaning', () => {
    const plane = { leftMm: 50, rightMm: 50, boardMm: 12.5, leanMmPerM: 0 };
    const say = (more: Partial<typeof plane>) => sayStep(step('set_laser', { ...plane, ...more }), 'mm');
    expect(say({})).toContain('stands 50 mm behind it all along the floor; their face is 12.5 mm nearer');
    expect(say({ rightMm: -3 })).toContain(
      '50 mm behind it at the left end of the floor and 3 mm before it at',
    );
    expect(say({ leanMmPerM: -2 })).toContain(
      'all along the floor, and 2 mm further back for each metre up;',
    );
  });
  test('reads right for one and for many', () => {
    const screws = { screws: 1, leastMm: 5, mostMm: 5, services: 0, drillMm: 8, plugMm: 40 };
    expect(sayStep(step('set_screws', screws), 'mm')).toContain('set 1 gauge screw,');
    expect(sayStep(step('set_screws', { ...screws, screws: 45 }), 'mm')).toContain('set 45 gauge screws,');
    const traced = { boxes: 0, screws: 1 };
    expect(sayStep(step('trace_services', traced), 'mm')).toContain(
      '1 screw stands where they are likely: move it',
    );
  });
});

test('every caution is a short sentence', () => {
  for (const [code, sentence] of Object.entries(cautionSentences)) {
    expect(sentence, code).toMatch(/^[A-Z].{30,}[.]$/);
    expect(sentence.length, code).toBeLessThan(220);
  }
});
