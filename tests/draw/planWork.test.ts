import { describe, expect, test } from 'vitest';
import { placeWall } from '../../src/draw/frame.ts';
import { look, makePen } from '../../src/draw/look.ts';
import { drawPlan } from '../../src/draw/plan.ts';
import { drawBoards } from '../../src/draw/planBoards.ts';
import { drawHackedSpots, drawPackingStrips } from '../../src/draw/planWork.ts';
import { areOver, Room } from '../../src/draw/room.ts';
import { listTexts } from '../../src/draw/tree.ts';
import { listElements, listTextBoxes } from './boxes.ts';
import { spots, workedPlan } from './workedPlan.ts';
import { roughPlan, type DrawnWall } from './walls.ts';

const frame = placeWall({ width: 3600, height: 2450 }, 0, 0, 0.25);
const pen = makePen(12);
const planOf = ({ survey, solution, plan }: DrawnWall) => ({ survey, surface: solution.surface, plan });

describe('spots to hack off', () => {
  test('each says its name and depth in the signal colour, and is framed where it lies', () => {
    const node = drawHackedSpots(spots, frame, 'mm', pen, new Room(frame));
    const texts = listElements(node, 'text');
    expect(listTexts(node)).toEqual(['h1: hack 6.5 off', 'h2: hack 3 off']);
    expect(texts.map(({ attrs }) => attrs.fill)).toEqual([look.signal, look.signal]);
    const frames = listElements(node, 'rect').filter(({ attrs }) => 'stroke-dasharray' in attrs);
    spots.forEach(({ area }, k) => {
      expect(frames[k]!.attrs.x).toBeCloseTo(frame.x(area.along), 9);
      expect(frames[k]!.attrs.y).toBeCloseTo(frame.y(area.up + area.height), 9);
      expect(frames[k]!.attrs.width).toBeCloseTo(area.width * 0.25, 9);
    });
  });

  test('where there is no room for words the frame alone is left', () => {
    const room = new Room(frame);
    room.take(frame);
    const node = drawHackedSpots(spots, frame, 'mm', pen, room);
    expect(listTexts(node)).toEqual([]);
    expect(listElements(node, 'path')).toHaveLength(2);
  });
});

test('a packing strip shows one line more for each further layer, all inside it', () => {
  const { plan } = workedPlan();
  const [one, two] = plan.packing.strips.map((strip) =>
    listElements(drawPackingStrips([strip], frame, pen), 'rect'),
  );
  expect([one!.length, two!.length]).toEqual([1, 2]);
  const [outer, inner] = two!.map(({ attrs }) => attrs);
  expect(Number(inner!.x)).toBeGreaterThan(Number(outer!.x));
  expect(Number(inner!.width)).toBeLessThan(Number(outer!.width));
});

test('a board under a sloping ceiling is drawn by its corners', () => {
  const { plan } = workedPlan();
  const sloping = plan.boards.filter(({ outline }) => outline !== null);
  expect(sloping.length).toBeGreaterThan(1);
  const paths = listElements(drawBoards(plan.boards, frame, pen), 'path');
  expect(paths).toHaveLength(sloping.length);
  const [first] = sloping;
  for (const { along, up } of first!.outline!)
    expect(String(paths[0]!.attrs.d)).toContain(
      `${Number(frame.x(along).toFixed(2))},${Number(frame.y(up).toFixed(2))}`,
    );
});

test('the legend names hacking, packing by its layers, and services, where there are any', () => {
  const says = (wall: DrawnWall) => listTexts(drawPlan(planOf(wall), { layout: 'screen' })).join(' ');
  const words = ['spot to hack off first', 'one layer', '2 layers', 'trace before drilling'];
  for (const each of words) expect(says(workedPlan()), each).toContain(each);
  const plain = roughPlan();
  const bare = {
    ...plain,
    plan: {
      ...plain.plan,
      hacked: [],
      packing: { strips: [], cuts: [] },
      screws: plain.plan.screws.map((screw) => ({ ...screw, services: null })),
    },
  };
  for (const each of words) expect(says(bare), each).not.toContain(each);
});

test('words on the plan of a wall with much to do do not run into each other', () => {
  const boxes = listTextBoxes(drawPlan(planOf(workedPlan()), { layout: 'screen' }));
  const collisions = boxes.flatMap((a, k) =>
    boxes.slice(k + 1).flatMap((b) => (areOver(a, b) ? [`${a.text} / ${b.text}`] : [])),
  );
  expect(collisions).toEqual([]);
});
