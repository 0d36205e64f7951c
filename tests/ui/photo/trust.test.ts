import { expect, test } from 'vitest';
import { HAND_SIGMA_PX } from '../../../src/app/editPoints.ts';
import { NUDGE_PX } from '../../../src/ui/photo/keys.ts';
import { SURE_SIGMA_PX, trustOf } from '../../../src/ui/photo/trust.ts';

test('a point is sure within one step of the arrow keys, unsure where a hand would set it better', () => {
  expect(SURE_SIGMA_PX).toBe(NUDGE_PX);
  expect([0.02, SURE_SIGMA_PX, 0.26, HAND_SIGMA_PX, 0.51].map((sigma) => trustOf({ sigma }))).toEqual([
    ...['sure', 'sure', 'fair', 'fair', 'poor'],
  ]);
});
