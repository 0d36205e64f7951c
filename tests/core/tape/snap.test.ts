import { expect, test } from 'vitest';
import { averageTape, type TapeStrip } from '../../../samples/make/tape.ts';
import { snapToGraduation, SNAP_REACH_PX } from '../../../src/core/tape/snap.ts';
import type { GreyCrop } from '../../../src/core/tape/snapCrop.ts';
import { seedRandom, type Random } from '../../truth/random.ts';

const LONG_PX = 560;
const HIGH_PX = 2 * SNAP_REACH_PX + 1;
/** Where the tape's graduated edge lies in the picture, and how much it is turned (rad). */
const EDGE_PX = SNAP_REACH_PX;
const TURNED = 0.01;

/** A wall with blotches of several sizes, and brick joints where asked. */
function paintWall(random: Random, joints: boolean): Float32Array {
  const values = new Float32Array(LONG_PX * HIGH_PX).fill(140);
  for (let blot = 0; blot < 1500; blot++) {
    const [u, v, tone] = [LONG_PX * random.uniform(), HIGH_PX * random.uniform(), 8 * random.normal()];
    const [long, high] = [2 + 12 * random.uniform() ** 2, 2 + 12 * random.uniform() ** 2];
    for (let y = Math.max(0, Math.ceil(v - high)); y < Math.min(HIGH_PX, v + high); y++)
      for (let x = Math.max(0, Math.ceil(u - long)); x < Math.min(LONG_PX, u + long); x++)
        values[y * LONG_PX + x]! += tone;
  }
  for (let i = 0; joints && i < values.length; i++) {
    const [u, v] = [i % LONG_PX, Math.floor(i / LONG_PX)];
    if (v % 65 < 9 || (u + (Math.floor(v / 65) % 2) * 107) % 215 < 9) values[i]! += 35;
  }
  return values;
}

/** A picture of a tape on that wall, `perMm` px for a mm of it, with the sensor's noise; strokes at (n, 0) mm. */
function makePicture(perMm: number, seed: number, tape: boolean, joints = false) {
  const random = seedRandom(seed);
  const values = paintWall(random, joints);
  const strip: TapeStrip = {
    axis: 'along',
    zero: 0,
    length: 5000,
    edge: 0,
    side: -1,
    width: 30,
    ground: [0.6, 0.5, 0.1],
  };
  const seen = new Float64Array(3);
  for (let v = 0; v < HIGH_PX && tape; v++)
    for (let u = 0; u < LONG_PX; u++) {
      const s = (u + TURNED * (v - EDGE_PX)) / perMm + 200;
      const w = (v - EDGE_PX - TURNED * u) / perMm;
      const share = averageTape(strip, s, w, 1 / perMm, 0, 0, 1 / perMm, seen);
      // reflectance to a picture's tones, by its usual exponent
      const tone = 255 * ((seen[0]! + 2 * seen[1]! + seen[2]!) / 4) ** (1 / 2.2);
      values[v * LONG_PX + u]! += share * (tone - values[v * LONG_PX + u]!);
    }
  for (let i = 0; i < values.length; i++) values[i]! += 2.5 * random.normal();
  const crop: GreyCrop = { values, width: LONG_PX, height: HIGH_PX, u0: 0, v0: 0 };
  const strokeAt = (mm: number) => ({ u: (mm - 200) * perMm, v: EDGE_PX + TURNED * (mm - 200) * perMm });
  return { crop, strokeAt, random };
}

/** Presses beside strokes of 10 mm by up to `offShare` of their spacing. */
function pressStrokes(perMm: number, offShare: number, told: boolean) {
  const { crop, strokeAt, random } = makePicture(perMm, Math.round(100 * perMm), true);
  const errors: number[] = [];
  let [wrong, presses] = [0, 0];
  for (let mm = 200; mm < 200 + LONG_PX / perMm; mm += 10) {
    const stroke = strokeAt(mm);
    if (stroke.u < SNAP_REACH_PX || stroke.u > LONG_PX - SNAP_REACH_PX - 1) continue;
    const off = (2 * random.uniform() - 1) * offShare * 10 * perMm;
    const press = { u: stroke.u + off, v: stroke.v + 3 * (random.uniform() - 0.3) };
    const snap = snapToGraduation(crop, press, told ? { u: 1, v: 0 } : null);
    presses++;
    if (!snap) continue;
    const miss = snap.u - stroke.u;
    if (Math.abs(miss) > 2.5 * perMm) wrong++;
    else errors.push(miss);
  }
  const rmsPx = Math.sqrt(errors.reduce((sum, miss) => sum + miss ** 2, 0) / errors.length);
  return { right: errors.length / presses, wrong: wrong / presses, rmsPx };
}

test.each([
  [0.8, true],
  [1, false],
  [1.3, true],
])('at %d px for a mm a press off by up to 0.4 of the spacing goes to its stroke', (perMm, told) => {
  const { right, wrong, rmsPx } = pressStrokes(perMm, 0.4, told);
  expect(right).toBeGreaterThan(0.9);
  expect(wrong).toBe(0);
  expect(rmsPx).toBeLessThan(0.4);
});

test.each([false, true])('nothing to snap to on a bare wall; brick: %s', (brick) => {
  const { crop, random } = makePicture(1, 5, false, brick);
  let snapped = 0;
  for (let i = 0; i < 60; i++) {
    const u = SNAP_REACH_PX + 1 + random.uniform() * (LONG_PX - 2 * SNAP_REACH_PX - 3);
    if (snapToGraduation(crop, { u, v: EDGE_PX }, null)) snapped++;
  }
  expect(snapped).toBeLessThan(2);
});
