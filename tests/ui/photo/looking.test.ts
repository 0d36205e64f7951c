import fc from 'fast-check';
import { afterEach, expect, test, vi } from 'vitest';
import { handOf } from '../../../src/ui/photo/hand.ts';
import { chooseLevel, listTiles, MOST_TILES, TILE_PX } from '../../../src/ui/photo/levels.ts';
import { AWAY_PX, LOUPE_PX, placeLoupe } from '../../../src/ui/photo/loupePlace.ts';
import { showsPoints } from '../../../src/ui/photo/paint.ts';
import { carryView, isCarriedFar, Stillness } from '../../../src/ui/photo/rest.ts';
import { fitView, shiftView, spotOfPoint, zoomView } from '../../../src/ui/photo/view.ts';
import { readWheel, type WheelFacts } from '../../../src/ui/photo/wheel.ts';
import { Table } from './table.svelte.ts';

const seeded = { seed: 61, numRuns: 300 };
const picture = { width: 4000, height: 3000 };
const frame = { width: 800, height: 600 };

test('the magnifier lies inside every frame that has room for it, never under the finger, on either hand', () => {
  const sides = fc.record({
    width: fc.integer({ min: 300, max: 1400 }),
    height: fc.integer({ min: 300, max: 900 }),
  });
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(sides, share, share, fc.constantFrom('left', 'right'), (size, across, down, hand) => {
      const spot = { x: across * size.width, y: down * size.height };
      const { x, y } = placeLoupe(spot, size, hand);
      expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
      expect(x + LOUPE_PX).toBeLessThanOrEqual(size.width);
      expect(y + LOUPE_PX).toBeLessThanOrEqual(size.height);
      const apart = Math.max(Math.abs(x + LOUPE_PX / 2 - spot.x), Math.abs(y + LOUPE_PX / 2 - spot.y));
      // where neither above, below nor beside has all the room, still clear of a fingertip of 20 css px
      expect(apart).toBeGreaterThanOrEqual(Math.min(AWAY_PX - 1e-6, LOUPE_PX / 2 + 18));
    }),
    seeded,
  );
});

test('near the upper edge the magnifier stands on the side that the hand leaves free', () => {
  const spot = { x: 400, y: 10 };
  expect(placeLoupe(spot, frame, 'right').x + LOUPE_PX).toBeLessThan(spot.x);
  expect(placeLoupe(spot, frame, 'left').x).toBeGreaterThan(spot.x);
  expect(placeLoupe({ x: 5, y: 10 }, frame, 'right').x).toBeGreaterThan(5);
});

test('what was painted for one view lies where the other has it', () => {
  const at = fc.record({ x: fc.integer({ min: 0, max: 800 }), y: fc.integer({ min: 0, max: 600 }) });
  const factor = fc.double({ min: 0.3, max: 4, noNaN: true });
  fc.assert(
    fc.property(at, factor, at, at, (spot, by, shift, point) => {
      const from = zoomView(fitView(picture, frame), spot, 3, picture, frame);
      const to = shiftView(zoomView(from, spot, by, picture, frame), shift, picture, frame);
      const { scale, x, y } = carryView(from, to);
      const image = { u: point.x, v: point.y };
      const painted = spotOfPoint(from, image);
      const wanted = spotOfPoint(to, image);
      expect(painted.x * scale + x).toBeCloseTo(wanted.x, 6);
      expect(painted.y * scale + y).toBeCloseTo(wanted.y, 6);
    }),
    seeded,
  );
});

test('a small move carries what is painted, a long one or a jump paints anew', () => {
  const view = { scale: 1, x: -1000, y: -1000 };
  expect(isCarriedFar(view, { ...view, x: -1100 }, frame)).toBe(false);
  expect(isCarriedFar(view, { ...view, x: -840 }, frame)).toBe(false);
  expect(isCarriedFar(view, { ...view, x: -839 }, frame)).toBe(true);
  expect(isCarriedFar(view, { ...view, y: -1121 }, frame)).toBe(true);
  expect(isCarriedFar(view, zoomView(view, { x: 400, y: 300 }, 1.4, picture, frame), frame)).toBe(false);
  expect(isCarriedFar(view, zoomView(view, { x: 400, y: 300 }, 1.6, picture, frame), frame)).toBe(true);
  expect(isCarriedFar(view, fitView(picture, frame), frame)).toBe(true);
});

test('the coarsest level is taken that is sharp on the screen, and the tiles are those that are seen', () => {
  expect(chooseLevel([1, 0.5, 0.25], 0.19)).toBe(2);
  expect(chooseLevel([1, 0.5, 0.25], 0.5)).toBe(1);
  expect(chooseLevel([1, 0.5, 0.25], 8)).toBe(0);
  const part = { left: TILE_PX - 1, top: TILE_PX, right: TILE_PX + 1, bottom: TILE_PX + 1 };
  expect(listTiles(part, 4 * TILE_PX)).toEqual([4, 5]);
  // a desktop frame at 1:1 is shown by tiles alone
  const seen = { left: 300, top: 300, right: 300 + 1040, bottom: 300 + 560 };
  expect(listTiles(seen, picture.width).length).toBeLessThanOrEqual(MOST_TILES);
});

test('a wheel zooms, two fingers on a trackpad move the picture or zoom, Shift goes sideways', () => {
  const still: WheelFacts = { deltaX: 0, deltaY: 0, deltaMode: 0, ctrlKey: false, shiftKey: false };
  const kind = (facts: Partial<WheelFacts>) => readWheel({ ...still, ...facts }).kind;
  // as browsers tell it: Chromium and Safari, wheel and trackpad; Firefox, wheel in lines and in px, trackpad
  expect(kind({ deltaY: 100, wheelDeltaY: -120 })).toBe('zoom');
  expect(kind({ deltaY: -53, wheelDeltaY: 240 })).toBe('zoom');
  expect(kind({ deltaY: 7, wheelDeltaY: -21 })).toBe('pan');
  expect(kind({ deltaY: 120, deltaX: 4, wheelDeltaY: -360 })).toBe('pan');
  expect(kind({ deltaY: 3, deltaMode: 1 })).toBe('zoom');
  expect(kind({ deltaY: 102 })).toBe('zoom');
  expect(kind({ deltaY: 11.5 })).toBe('pan');
  expect(readWheel({ ...still, deltaY: -10, ctrlKey: true })).toEqual({
    kind: 'zoom',
    factor: Math.exp(60 / 500),
  });
  expect(readWheel({ ...still, deltaY: 100, shiftKey: true })).toEqual({
    kind: 'pan',
    by: { x: -100, y: 0 },
  });
  expect(readWheel({ ...still, deltaX: 100, shiftKey: true })).toEqual({
    kind: 'pan',
    by: { x: -100, y: 0 },
  });
});

test('a point in hand is painted apart from the others, where the finger has it', () => {
  const table = new Table();
  table.tap(100, 150);
  expect(handOf(table.work)).toBeNull();
  table.fingers.down(1, { x: 201, y: 301 }, 'touch');
  table.fingers.move(1, { x: 201, y: 281 });
  expect(handOf(table.work)).toEqual({
    line: table.line,
    index: 5,
    at: { u: 100, v: 140 },
  });
});

afterEach(() => {
  vi.useRealTimers();
});

test('a thing that moves is told still once, 120 ms after its last move, and never once it is given up', () => {
  vi.useFakeTimers();
  const onStill = vi.fn();
  const stillness = new Stillness(onStill);
  for (let i = 0; i < 20; i++) {
    stillness.move();
    vi.advanceTimersByTime(16);
  }
  expect(onStill).not.toHaveBeenCalled();
  vi.advanceTimersByTime(120 - 16 - 1);
  expect(onStill).not.toHaveBeenCalled();
  vi.advanceTimersByTime(1);
  expect(onStill).toHaveBeenCalledTimes(1);
  vi.advanceTimersByTime(1000);
  expect(onStill).toHaveBeenCalledTimes(1);
  stillness.move();
  stillness.stop();
  vi.advanceTimersByTime(1000);
  expect(onStill).toHaveBeenCalledTimes(1);
});

test('a frame is said to show points exactly where one but the left out one is seen in it', () => {
  const coordinate = fc.integer({ min: -20, max: 4020 });
  const point = fc.record({ u: coordinate, v: coordinate });
  fc.assert(
    fc.property(
      fc.array(point, { maxLength: 6 }),
      fc.integer({ min: -1, max: 5 }),
      fc.double({ min: 0.1, max: 16, noNaN: true }),
      fc.integer({ min: -900, max: 900 }),
      fc.integer({ min: -900, max: 900 }),
      (places, except, scale, x, y) => {
        const points = places.map((each) => ({ ...each, sigma: 0.1, state: 'found' as const }));
        const isSeen = points.some((each, i) => {
          const spot = spotOfPoint({ scale, x, y }, each);
          const inside = (at: number, room: number) => at >= -8 && at <= room + 8;
          return i !== except && inside(spot.x, frame.width) && inside(spot.y, frame.height);
        });
        expect(showsPoints({ points }, { scale, x, y }, frame, except)).toBe(isSeen);
      },
    ),
    seeded,
  );
});
