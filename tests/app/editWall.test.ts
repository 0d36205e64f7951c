import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addBox,
  addOpening,
  listTicks,
  moveRect,
  noAids,
  sizeRect,
  type Aids,
  type Handle,
} from '../../src/app/editWall.ts';
import { listWallDoubts } from '../../src/app/wallDoubts.ts';
import { listThings, placeThing, removeThing } from '../../src/app/wallThings.ts';
import { makeSurvey } from '../draw/walls.ts';

const wall = { width: 3600, height: 2450 };
const whole = (min: number, max: number) => fc.integer({ min, max });
const rects = fc.record({
  along: whole(-40, 3500),
  up: whole(-40, 2300),
  width: whole(0, 1500),
  height: whole(0, 1500),
});
// a rectangle that can be held at all: its middle on the wall
const onWall = rects.filter((r) => r.along + r.width / 2 <= wall.width && r.up + r.height / 2 <= wall.height);
const sized = onWall.filter((r) => r.width > 0 && r.height > 0);
const moves = fc.record({ along: whole(-4000, 4000), up: whole(-4000, 4000) });
const ticks = fc.record({
  edges: fc.array(whole(0, 3600), { maxLength: 8 }),
  middles: fc.array(whole(0, 3600), { maxLength: 3 }),
});
const aids: fc.Arbitrary<Aids> = fc.record({
  stepMm: fc.constantFrom(5, 10, 6.35),
  reachMm: whole(1, 60),
  stillMm: whole(0, 8),
  along: ticks,
  up: ticks,
});
const handles = fc.constantFrom<Handle>(
  { along: -1, up: 0 },
  { along: 1, up: 0 },
  { along: 0, up: -1 },
  { along: 0, up: 1 },
  { along: -1, up: -1 },
  { along: 1, up: 1 },
);
const axes = [
  ['along', 'width'],
  ['up', 'height'],
] as const;

describe('moving', () => {
  test('keeps the size, the middle on the wall, and follows the hand to a step or as far as a tick reaches', () => {
    fc.assert(
      fc.property(onWall, moves, aids, (rect, by, help) => {
        const { rect: put, guides } = moveRect(rect, by, help, wall);
        for (const [axis, side] of axes) {
          expect(put[side]).toBe(rect[side]);
          const middle = put[axis] + put[side] / 2;
          expect(middle).toBeGreaterThanOrEqual(0);
          expect(middle).toBeLessThanOrEqual(wall[side]);
          const want = rect[axis] + by[axis];
          const reachable = want + rect[side] / 2 >= 0 && want + rect[side] / 2 <= wall[side];
          if (reachable)
            expect(Math.abs(put[axis] - want)).toBeLessThanOrEqual(
              Math.max(help.reachMm, help.stepMm / 2, help.stillMm) + 1e-3,
            );
          const drawn = guides[axis];
          if (drawn === null) continue;
          const points = [put[axis], put[axis] + put[side], middle];
          expect(Math.min(...points.map((each) => Math.abs(each - drawn)))).toBeLessThan(1e-3);
        }
      }),
      { seed: 11 },
    );
  });

  test('no way at all changes nothing, and a way too short to be meant neither', () => {
    fc.assert(
      fc.property(onWall, aids, (rect, help) => {
        expect(moveRect(rect, { along: 0, up: 0 }, help, wall).rect).toEqual(rect);
        const short = { along: help.stillMm - 1, up: 1 - help.stillMm };
        if (help.stillMm > 0) expect(moveRect(rect, short, help, wall).rect).toEqual(rect);
      }),
      { seed: 12 },
    );
  });

  test('without ticks it stands at whole steps; by keys exactly where it is sent', () => {
    const none = { edges: [], middles: [] };
    const help = { stepMm: 5, reachMm: 30, stillMm: 2, along: none, up: none };
    const rect = { along: 1003, up: 902, width: 80, height: 80 };
    expect(moveRect(rect, { along: 31, up: 0 }, help, wall).rect).toMatchObject({ along: 1035, up: 902 });
    expect(moveRect(rect, { along: 5, up: -1 }, noAids, wall).rect).toMatchObject({ along: 1008, up: 901 });
  });

  test('an edge is drawn to the edge of another, the middle to the middle of the wall', () => {
    const help = {
      ...{ stepMm: 5, reachMm: 20, stillMm: 2 },
      along: { edges: [0, 3600, 1213], middles: [1800] },
      up: { edges: [0, 2450], middles: [1225] },
    };
    const rect = { along: 500, up: 300, width: 900, height: 1200 };
    const beside = moveRect(rect, { along: -180, up: 0 }, help, wall);
    expect(beside).toMatchObject({ rect: { along: 313 }, guides: { along: 1213, up: null } });
    const middle = moveRect(rect, { along: 845, up: -285 }, help, wall);
    expect(middle).toMatchObject({ rect: { along: 1350, up: 0 }, guides: { along: 1800, up: 0 } });
  });
});

describe('changing the size', () => {
  test('keeps sides positive and the other edges where they are', () => {
    fc.assert(
      fc.property(sized, handles, moves, aids, (rect, handle, by, help) => {
        const { rect: put } = sizeRect(rect, handle, by, help, wall);
        for (const [axis, side] of axes) {
          expect(put[side]).toBeGreaterThan(0);
          const end = (of: typeof rect) => of[axis] + of[side];
          if (handle[axis] >= 0) expect(put[axis]).toBe(rect[axis]);
          if (handle[axis] <= 0) expect(end(put)).toBeCloseTo(end(rect), 2);
          // an edge does not leave the wall where it had not
          expect(put[axis]).toBeGreaterThanOrEqual(Math.min(0, rect[axis]) - 1e-9);
          expect(end(put)).toBeLessThanOrEqual(Math.max(wall[side], end(rect)) + 1e-2);
        }
      }),
      { seed: 13 },
    );
  });

  test('an edge meets the edge of another and the wall', () => {
    const help = {
      ...{ stepMm: 5, reachMm: 15, stillMm: 2 },
      along: { edges: [0, 3600, 2007], middles: [] },
      up: { edges: [0, 2450], middles: [] },
    };
    const rect = { along: 1000, up: 900, width: 900, height: 1200 };
    expect(sizeRect(rect, { along: 1, up: 0 }, { along: 100, up: 40 }, help, wall)).toMatchObject({
      rect: { ...rect, width: 1007 },
      guides: { along: 2007, up: null },
    });
    expect(sizeRect(rect, { along: 0, up: -1 }, { along: 0, up: -893 }, help, wall).rect).toEqual({
      ...rect,
      up: 0,
      height: 2100,
    });
  });
});

describe('things of a survey', () => {
  const survey = makeSurvey();
  const kinds = ['opening', 'box', 'reading', 'line'] as const;

  test('each is put back where it was as the same survey, and elsewhere as another that differs there alone', () => {
    const things = listThings(survey, kinds);
    expect(new Set(things.map(({ kind }) => kind))).toEqual(new Set(kinds));
    expect(new Set(things.map(({ key }) => key)).size).toBe(things.length);
    for (const thing of things) {
      expect(placeThing(survey, thing, thing.rect)).toBe(survey);
      const rect = {
        ...thing.rect,
        along: thing.rect.along + (thing.moves === 'up' ? 0 : 15),
        up: thing.rect.up + (thing.moves === 'along' ? 0 : 15),
      };
      const after = listThings(placeThing(survey, thing, rect), kinds);
      expect(after).toEqual(things.map((each) => (each.key === thing.key ? { ...each, rect } : each)));
    }
  });

  test('a line keeps its points when it is moved, and is not taken away here', () => {
    const line = listThings(survey, ['line'])[0]!;
    const next = placeThing(survey, line, { ...line.rect, up: 405 });
    const [before, after] = [survey, next].map(({ photos }) => photos[0]!.lines[0]!);
    expect(after).toEqual({ ...before, sheet: { axis: 'level', at: 405 } });
    expect(removeThing(survey, line)).toBe(survey);
    for (const thing of listThings(survey, ['opening', 'box', 'reading']))
      expect(listThings(removeThing(survey, thing), kinds).map(({ key }) => key)).toEqual(
        listThings(survey, kinds)
          .map(({ key }) => key)
          .filter((key) => key !== thing.key),
      );
  });

  test('an opening is drawn to the wall and its fellows, a reading to lines and readings; never to itself', () => {
    const [thing] = listThings(survey, ['opening']);
    const own = listTicks(survey, thing!);
    const other = listTicks(survey, { key: '', kind: 'opening' });
    expect(own.along.edges).toContain(survey.wall.width);
    expect(own.along.middles).toContain(survey.wall.width / 2);
    expect(other.along.edges.length - own.along.edges.length).toBe(2);
    const { openings, boxes } = survey.wall;
    expect(own.up.edges).toHaveLength(2 + 2 * (openings.length + boxes.length - 1));
    const level = survey.photos[0]!.lines[0]!.sheet.at;
    const [reading] = listThings(survey, ['reading']);
    const { along, up } = listTicks(survey, reading!);
    expect(up.edges).toContain(level);
    const plumbs = survey.photos.flatMap(({ lines }) => lines.filter(({ sheet }) => sheet.axis === 'plumb'));
    expect(along.edges).toHaveLength(survey.readings.length - 1 + plumbs.length);
    expect(along.middles).toEqual([]);
  });

  test('what is drawn on the floor and tall is a door; a box added is a socket; each has an id of its own', () => {
    const door = addOpening(survey, { along: 100, up: 0, width: 900, height: 2000 });
    expect(door.survey.wall.openings.at(-1)).toMatchObject({ kind: 'door', width: 900 });
    expect(addOpening(door.survey).survey.wall.openings.at(-1)).toMatchObject({ kind: 'window' });
    const box = addBox(addBox(survey).survey);
    expect(new Set(box.survey.wall.boxes.map(({ id }) => id)).size).toBe(survey.wall.boxes.length + 2);
  });

  test('what is beyond the wall or over another is told, and told of both', () => {
    const rect = { along: -5, up: 0, width: 100, height: 100 };
    const bare = { ...survey, photos: [], readings: [], wall: { ...survey.wall, openings: [], boxes: [] } };
    const one = addOpening(bare, rect).survey;
    const two = addOpening(one, { ...rect, along: 95 }).survey;
    expect([...listWallDoubts(two).keys()]).toEqual(['opening o1']);
    expect(listWallDoubts(two).get('opening o1')).toEqual([{ code: 'beyond', sides: ['left'] }]);
    const three = addOpening(one, { ...rect, along: 94 }).survey;
    expect(listWallDoubts(three).get('opening o2')).toMatchObject([{ code: 'over', other: { id: 'o1' } }]);
    const r1 = { id: 'r1', along: 50, up: 50, distance: 60, sigma: 0.7 };
    const held = { ...one, readings: [r1] };
    expect(listWallDoubts(held).get('reading r1')).toMatchObject([{ code: 'over', other: { id: 'o1' } }]);
  });
});
