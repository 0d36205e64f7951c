import fc from 'fast-check';
import { expect, test } from 'vitest';
import { areaAround, areOver, isWithin, placesBeside, Room, sidesOfArea } from '../../src/draw/room.ts';

const whole = { left: 0, top: 0, right: 100, bottom: 60 };

test('areas that share only an edge are not over each other', () => {
  expect(areOver(areaAround(5, 5, 10, 10), areaAround(15, 5, 10, 10))).toBe(false);
  expect(areOver(areaAround(5, 5, 10, 10), areaAround(14, 5, 10, 10))).toBe(true);
});

test('an area across a side is over it, one inside is not', () => {
  const sides = sidesOfArea({ left: 10, top: 10, right: 50, bottom: 50 });
  expect(sides.filter((side) => areOver(side, areaAround(10, 30, 6, 4)))).toHaveLength(1);
  expect(sides.filter((side) => areOver(side, areaAround(30, 30, 6, 4)))).toHaveLength(0);
});

test('the first free place is taken, and none outside', () => {
  const room = new Room(whole);
  const places = [areaAround(-2, 5, 10, 4), areaAround(20, 20, 10, 4)].map((area) => ({ area }));
  expect(room.takeFirst(places)).toBe(places[1]);
  expect(room.takeFirst(places)).toBeNull();
});

test('what is tried in a copy leaves the room as it was', () => {
  const room = new Room(whole);
  room.copy().take(whole);
  expect(room.isFree(areaAround(50, 30, 10, 10))).toBe(true);
});

test('law: whatever is asked for, what is taken never overlaps and stays inside', () => {
  const place = fc.tuple(
    fc.integer({ min: -10, max: 110 }),
    fc.integer({ min: -10, max: 70 }),
    fc.integer({ min: 1, max: 30 }),
  );
  fc.assert(
    fc.property(fc.array(place, { maxLength: 25 }), (asked) => {
      const room = new Room(whole);
      const taken = asked.flatMap(
        ([x, y, width]) => room.takeFirst([{ area: areaAround(x, y, width, 5) }]) ?? [],
      );
      taken.forEach(({ area }, k) => {
        expect(isWithin(area, whole)).toBe(true);
        for (const other of taken.slice(k + 1)) expect(areOver(area, other.area)).toBe(false);
      });
    }),
    { seed: 9, numRuns: 60 },
  );
});

test('places beside a mark keep off it, eight of them', () => {
  const mark = areaAround(0, 0, 4, 4);
  const places = placesBeside(0, 0, 12, 5, 2);
  expect(places).toHaveLength(8);
  for (const { area } of places) expect(areOver(area, mark)).toBe(false);
  expect(placesBeside(0, 0, 12, 5, 2, true)[0]!.x).toBeLessThan(0);
});
