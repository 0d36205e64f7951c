// Made-up advice on what to measure next, to draw and to write.
import type { NextAdvice, NextMeasure } from '../../src/core/results.ts';

export const nextLevel: NextMeasure = {
  kind: 'level',
  along: 1800,
  up: 1550,
  stretch: { from: 0, to: 3600 },
  doubtfulM2After: 0.4,
  sigmaRmsAfterMm: 1.2,
};

export const nextReading: NextMeasure = {
  kind: 'reading',
  along: 2450,
  up: 1150,
  stretch: null,
  doubtfulM2After: 0.7,
  sigmaRmsAfterMm: 1.6,
};

export const nextPlumb: NextMeasure = {
  kind: 'plumb',
  along: 950,
  up: 1225,
  stretch: { from: 0, to: 2450 },
  doubtfulM2After: 0.5,
  sigmaRmsAfterMm: 1.3,
};

/** Advice that names one measurement, or says that nothing is worth it. */
export function makeAdvice(best: NextMeasure | null, change: Partial<NextAdvice> = {}): NextAdvice {
  return {
    linedM2: 7.98,
    doubtfulM2: 0.8,
    sigmaRmsMm: 1.8,
    aim: 'bed',
    best,
    bestReading: nextReading,
    bestLine: best?.kind === 'reading' ? nextLevel : (best ?? nextLevel),
    enough: best === null,
    ...change,
  };
}
