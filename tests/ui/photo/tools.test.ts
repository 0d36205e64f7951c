import { expect, test } from 'vitest';
import { seedRandom } from '../../truth/random.ts';
import { deleteChosen, pressKey, releaseKey, stepSuspect } from '../../../src/ui/photo/keys.ts';
import { fitView, frameMiddle, pointOfSpot } from '../../../src/ui/photo/view.ts';
import { PICTURE, Table } from './table.svelte.ts';

test('a tap picks the nearest point or mark within reach, and the panel follows', () => {
  const table = new Table();
  table.tap(103, 158);
  expect(table.work.chosen).toMatchObject({ kind: 'point', index: 5 });
  expect(table.work.panel).toBe('points');
  table.tap(58, 195);
  expect(table.work.chosen).toMatchObject({ kind: 'mark', index: 0 });
  expect(table.work.panel).toBe('marks');
  table.tap(300, 30);
  expect(table.work.chosen).toBeNull();
  expect(table.changes).toBe(0);
});

test('a drag moves the picked point by what the finger moved, as one change, wherever in reach it began', () => {
  const table = new Table();
  table.tap(100, 150);
  table.drag([103, 146], [104.5, 138.25]);
  expect(table.changes).toBe(1);
  expect(table.line.points[5]).toEqual({ u: 101.5, v: 142.25, sigma: 0.5, state: 'moved' });
  expect(table.work.chosen).toMatchObject({ kind: 'point', index: 5 });
});

test('what is in the middle stays there when the frame is laid out anew, one side after the other; a whole picture stays whole', () => {
  const { work } = new Table();
  const middle = () => pointOfSpot(work.view, frameMiddle(work.frame));
  work.setFrame({ width: 380, height: 300 });
  expect(work.view).toEqual(fitView(PICTURE, work.frame));
  work.showClose({ u: 200, v: 150 });
  const { u, v } = middle();
  for (const frame of [
    { width: 844, height: 300 },
    { width: 844, height: 200 },
    { width: 380, height: 277 },
  ]) {
    work.setFrame(frame);
    expect(middle().u).toBeCloseTo(u, 9);
    expect(middle().v).toBeCloseTo(v, 9);
  }
});

test('a drag that begins elsewhere moves the picture and no point', () => {
  const table = new Table();
  table.tap(100, 150);
  table.work.zoom(2);
  const before = table.work.view;
  table.drag([200, 100], [180, 90]);
  expect(table.changes).toBe(0);
  expect(table.work.view.x).not.toBe(before.x);
});

test('a point dragged past its neighbours stays picked under its new number', () => {
  const table = new Table();
  table.tap(100, 150);
  table.drag([100, 150], [135, 140]);
  expect(table.line.points[8]).toMatchObject({ u: 135, state: 'moved' });
  expect(table.work.chosen).toMatchObject({ kind: 'point', index: 8 });
});

test('a lost pointer, a second finger or Escape ends a drag without change', () => {
  for (const end of ['lose', 'second', 'escape'] as const) {
    const table = new Table();
    table.tap(100, 150);
    table.fingers.down(1, { x: 201, y: 301 }, 'touch');
    table.fingers.move(1, { x: 231, y: 281 });
    expect(table.work.live).toMatchObject({ kind: 'point' });
    if (end === 'lose') table.fingers.lose(1);
    if (end === 'second') table.fingers.down(2, { x: 400, y: 400 }, 'touch');
    if (end === 'escape') table.fingers.giveUp();
    expect(table.work.live).toBeNull();
    table.fingers.move(1, { x: 260, y: 260 });
    table.fingers.up(1, { x: 260, y: 260 });
    table.fingers.up(2, { x: 400, y: 400 });
    expect(table.changes, end).toBe(0);
  }
});

test('a pinch never changes the survey, whatever tool is taken and whatever is picked', () => {
  const random = seedRandom(31);
  for (const tool of [
    'pick',
    'push',
    'add',
    'erase',
    'gap',
    'mark',
    'mask',
    'block',
    'measure',
    'pin',
  ] as const)
    for (let round = 0; round < 40; round++) {
      const table = new Table();
      table.tap(100, 150);
      if (tool !== 'pick') table.work.takeTool(tool);
      const spot = () => ({ x: random.between(0, 800), y: random.between(0, 600) });
      const first = round % 2 ? { x: 201, y: 301 } : spot();
      table.fingers.down(1, first, 'touch');
      for (let i = 0; i < round % 4; i++) table.fingers.move(1, spot());
      table.fingers.down(2, spot(), 'touch');
      for (let i = 0; i < 8; i++) table.fingers.move(1 + (i % 2), spot());
      table.fingers.up(1 + (round % 2), spot());
      table.fingers.move(2 - (round % 2), spot());
      table.fingers.up(2 - (round % 2), spot());
      expect(table.changes).toBe(0);
      expect(table.work.draft).toBeNull();
      expect(table.work.span).toBeNull();
      expect(table.work.live).toBeNull();
    }
});

test('a pinch keeps what is between the fingers where it is', () => {
  const table = new Table();
  table.fingers.down(1, { x: 300, y: 300 }, 'touch');
  table.fingers.down(2, { x: 500, y: 300 }, 'touch');
  table.fingers.move(1, { x: 200, y: 300 });
  table.fingers.move(2, { x: 600, y: 300 });
  expect(table.work.view.scale).toBeCloseTo(4, 9);
  // the middle of the fingers, (400, 300), showed the image point (199.5, 149.5) and still does
  expect(table.work.view.x + 200 * 4).toBeCloseTo(400, 9);
  expect(table.work.view.y + 150 * 4).toBeCloseTo(300, 9);
});

test('a point is added where the finger is let go', () => {
  const table = new Table();
  table.work.takeTool('add');
  table.drag([111, 140], [114, 149]);
  expect(table.changes).toBe(1);
  expect(table.line.points[7]).toEqual({ u: 114, v: 149, sigma: 0.5, state: 'added' });
});

test('a gap is marked along the line, whichever way it is drawn; a slip of the finger marks none', () => {
  const table = new Table();
  table.work.takeTool('gap');
  table.drag([165, 100], [126, 260]);
  expect(table.line.gaps).toEqual([{ from: 126, to: 165, byHand: true }]);
  const off = table.line.points.filter((point) => point.state === 'off');
  expect(off.map((point) => point.u)).toEqual([130, 140, 150, 160]);
  table.drag([230, 150], [231, 150]);
  expect(table.changes).toBe(1);
});

test('a press on the line and a drag across it push the stretch; beside the line it moves the picture', () => {
  const table = new Table();
  pressKey(table.work, '2', false);
  for (let i = 0; i < 6; i++) pressKey(table.work, ']', false);
  table.drag([152, 154], [171, 150]);
  expect(table.changes).toBe(1);
  expect(table.line.points[10]).toEqual({ u: 150, v: 146, sigma: 0.5, state: 'moved' });
  expect(table.line.points[9]!.v).toBe(table.line.points[11]!.v);
  expect(table.line.points[9]!.v).toBeGreaterThan(146);
  expect(table.line.points[9]!.v).toBeLessThan(150);
  expect(table.line.points.map(({ u }) => u)).toEqual(Array.from({ length: 31 }, (_, i) => 50 + 10 * i));
  table.drag([150, 250], [150, 200]);
  table.drag([150, 146], [150, 146]);
  expect(table.changes).toBe(1);
});

test('while a stretch is pushed, what is drawn of it is where its points will lie', () => {
  const table = new Table();
  pressKey(table.work, '2', false);
  for (let i = 0; i < 12; i++) pressKey(table.work, ']', false);
  table.tap(150, 150);
  pressKey(table.work, 'ArrowDown', false);
  pressKey(table.work, 'ArrowDown', true);
  const drawn = table.work.pushed;
  expect(drawn.length).toBeGreaterThan(3);
  expect(drawn.length).toBeLessThanOrEqual(60);
  const before = table.line.points;
  releaseKey(table.work);
  const after = table.line.points.filter((point, i) => point !== before[i]);
  expect(drawn.map(({ to }) => to)).toEqual(after);
});

test('with the brush the arrow keys push across the line and go along it', () => {
  const table = new Table();
  table.tap(100, 150);
  pressKey(table.work, '2', false);
  pressKey(table.work, 'ArrowDown', false);
  pressKey(table.work, 'ArrowDown', false);
  expect(table.changes).toBe(0);
  releaseKey(table.work);
  expect(table.changes).toBe(1);
  expect(table.line.points[5]).toMatchObject({ u: 100, v: 150.5, state: 'moved' });
  pressKey(table.work, 'ArrowRight', false);
  releaseKey(table.work);
  expect(table.work.chosen).toMatchObject({ index: 6 });
  expect(table.changes).toBe(1);
});

test('the ring takes away what it is drawn over, by hand or by keys', () => {
  const table = new Table();
  pressKey(table.work, '4', false);
  table.drag([98, 151], [133, 149]);
  expect(table.changes).toBe(1);
  const left = table.line.points.map(({ u }) => u);
  expect(left.filter((u) => u >= 80 && u <= 150)).toEqual([80, 90, 140, 150]);
  table.drag([300, 20], [310, 20]);
  expect(table.changes).toBe(1);
  pressKey(table.work, 'Enter', false);
  expect(table.line.points.some(({ u }) => u === 200)).toBe(false);
  expect(table.changes).toBe(2);
  table.undo();
  table.undo();
  expect(table.line.points.length).toBe(31);
});

test('a part of the picture is left out by a box', () => {
  const table = new Table();
  table.work.takeTool('mask');
  table.drag([80, 90], [20, 40]);
  expect(table.survey.photos[0]!.masks).toEqual([{ u: 20, v: 40, width: 60, height: 50 }]);
});

test('a mark waits for its place on the wall before it is in the survey; meanwhile it can be moved', () => {
  const table = new Table();
  table.work.takeTool('mark');
  table.drag([300, 200], [310, 205]);
  expect(table.work.draft).toMatchObject({ u: 310, v: 205 });
  table.drag([312, 203], [314.5, 203]);
  expect(table.work.draft).toMatchObject({ u: 312.5, v: 205 });
  table.work.takeTool('mark');
  expect(table.work.draft).toBeNull();
  expect(table.changes).toBe(0);
});

test('arrow keys move what is picked by a quarter of a pixel; a key held down is one change', () => {
  const table = new Table();
  table.tap(100, 150);
  for (let i = 0; i < 3; i++) pressKey(table.work, 'ArrowUp', false);
  expect(table.changes).toBe(0);
  releaseKey(table.work);
  expect(table.changes).toBe(1);
  expect(table.line.points[5]).toMatchObject({ u: 100, v: 149.25, state: 'moved' });
  pressKey(table.work, 'ArrowRight', true);
  releaseKey(table.work);
  expect(table.line.points[5]).toMatchObject({ u: 102, v: 149.25 });
});

test('points, marks and gaps are placed by keys alone', () => {
  const table = new Table();
  table.work.takeTool('add');
  expect(pressKey(table.work, 'Enter', false)).toBe(true);
  expect(table.line.points.find((point) => point.state === 'added')).toMatchObject({ u: 199.5, v: 149.5 });
  table.work.takeTool('gap');
  pressKey(table.work, 'Enter', false);
  for (let i = 0; i < 5; i++) pressKey(table.work, 'ArrowRight', false);
  pressKey(table.work, 'Enter', false);
  expect(table.line.gaps).toEqual([{ from: 199.5, to: 229.5, byHand: true }]);
  table.work.takeTool('mark');
  pressKey(table.work, 'ArrowDown', false);
  pressKey(table.work, 'Enter', false);
  expect(table.work.draft).toMatchObject({ u: 199.5, v: 155.5 });
});

test('suspects are gone through stretch by stretch, taken as right or left out', () => {
  const table = new Table();
  stepSuspect(table.work, 1);
  expect(table.work.chosen).toMatchObject({ kind: 'point', index: 15 });
  expect(table.work.view.scale).toBe(4);
  pressKey(table.work, 'a', false);
  expect(table.line.points[15]!.state).toBe('found');
  expect(table.work.chosen).toMatchObject({ kind: 'point', index: 16 });
  pressKey(table.work, 'o', false);
  expect(table.line.points[16]!.state).toBe('off');
  pressKey(table.work, 'Delete', false);
  expect(table.line.points.some((point) => point.u === 210)).toBe(false);
  expect(table.work.chosen).toMatchObject({ kind: 'point', index: 16 });
});

test('while the line is looked for, its points cannot be changed; marks can', () => {
  const table = new Table();
  table.tap(100, 150);
  table.busy = true;
  table.drag([100, 150], [100, 140]);
  pressKey(table.work, 'ArrowUp', false);
  releaseKey(table.work);
  deleteChosen(table.work);
  table.work.takeTool('add');
  table.tap(120, 120);
  expect(table.changes).toBe(0);
  table.work.takeTool('pick');
  table.tap(60, 200);
  table.drag([60, 200], [62, 201]);
  expect(table.survey.photos[0]!.marks[0]).toMatchObject({ u: 62, v: 201 });
});

test('a choice ends when its list becomes another', () => {
  const table = new Table();
  table.tap(100, 150);
  deleteChosen(table.work);
  expect(table.work.chosenAt).toMatchObject({ u: 110 });
  table.undo();
  expect(table.work.chosen).toBeNull();
});

test('300 gestures with undo and redo agree with a plain list of surveys', () => {
  const random = seedRandom(32);
  const table = new Table();
  const list = [table.survey];
  let at = 0;
  for (let step = 0; step < 300; step++) {
    const draw = random.between(0, 1);
    const changes = table.changes;
    if (draw < 0.2) table.undo();
    else if (draw < 0.3) table.redo();
    else gesture(table, random);
    if (draw < 0.2) at = Math.max(0, at - 1);
    else if (draw < 0.3) at = Math.min(list.length - 1, at + 1);
    else if (table.changes > changes) {
      expect(table.changes).toBe(changes + 1);
      list.splice(++at, Infinity, table.survey);
    }
    expect(table.survey).toBe(list[at]);
  }
  expect(table.changes).toBeGreaterThan(60);
});

function gesture(table: Table, random: ReturnType<typeof seedRandom>): void {
  const { work } = table;
  const place = (): [number, number] => [random.between(0, 399), random.between(120, 180)];
  const tools = ['pick', 'push', 'add', 'erase', 'gap', 'mask'] as const;
  const keys = ['ArrowUp', 'ArrowLeft', 'Delete', 'o', 'a', 'n', 'p', '.', 'Enter', 'Escape'];
  const kind = Math.floor(random.between(0, 5));
  if (kind === 0) work.tool = tools[Math.floor(random.between(0, tools.length))]!;
  else if (kind === 1) table.tap(...place());
  else if (kind === 2) {
    const from = place();
    table.drag(from, [from[0] + random.between(-9, 9), from[1] + random.between(-9, 9)]);
  } else if (kind === 3) table.drag(place(), place());
  else {
    pressKey(work, keys[Math.floor(random.between(0, keys.length))]!, false);
    releaseKey(work);
  }
}
