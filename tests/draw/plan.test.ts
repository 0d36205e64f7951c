import { describe, expect, test } from 'vitest';
import { placeWall } from '../../src/draw/frame.ts';
import { look, makePen } from '../../src/draw/look.ts';
import { drawPlan } from '../../src/draw/plan.ts';
import { drawPlanMap } from '../../src/draw/planMap.ts';
import { drawScrews } from '../../src/draw/planScrews.ts';
import { chooseScale } from '../../src/draw/planSheet.ts';
import { traceBed } from '../../src/draw/planZones.ts';
import { measureArea } from '../../src/draw/rings.ts';
import { areOver, Room } from '../../src/draw/room.ts';
import { listTexts, toSvg } from '../../src/draw/tree.ts';
import { listElements, listTextBoxes } from './boxes.ts';
import { cases, fourBoards, longWall } from './cases.ts';
import { makeWall, roughPlan, type DrawnWall } from './walls.ts';

const planOf = ({ survey, solution, plan }: DrawnWall) => ({ survey, surface: solution.surface, plan });
const sayAll = (wall: DrawnWall, options = {}) => listTexts(drawPlan(planOf(wall), options)).join(' ');

describe('texts', () => {
  test.each(cases.filter(({ name }) => name.startsWith('plan')))(
    'of $name do not run into each other',
    ({ name, draw }) => {
      const boxes = listTextBoxes(draw());
      // a photograph carries no title block and no measures round the wall
      expect(boxes.length).toBeGreaterThan(name === 'plan-on-photo' ? 60 : 80);
      const collisions = boxes.flatMap((a, k) =>
        boxes.slice(k + 1).flatMap((b) => (areOver(a, b) ? [`${a.text} / ${b.text}`] : [])),
      );
      expect(collisions).toEqual([]);
    },
  );

  test.each(cases)('of $name stay on the drawing', ({ draw }) => {
    const drawing = draw();
    const [, , width, height] = String(drawing.attrs.viewBox).split(' ').map(Number) as [
      number,
      number,
      number,
      number,
    ];
    for (const box of listTextBoxes(drawing)) {
      expect(box.left, box.text).toBeGreaterThanOrEqual(0);
      expect(box.right, box.text).toBeLessThanOrEqual(width);
      expect(box.top, box.text).toBeGreaterThanOrEqual(0);
      expect(box.bottom, box.text).toBeLessThanOrEqual(height);
    }
  });
});

describe('gauge screws', () => {
  const draw = (wall: DrawnWall, perMm: number, font: number) => {
    const frame = placeWall(wall.survey.wall, 0, 0, perMm);
    return drawScrews(wall.plan, frame, wall.survey.units, makePen(font), new Room(frame));
  };

  test('every figure is the projection to half a millimetre, or to a whole one, beside its own screw', () => {
    const wall = fourBoards();
    expect(wall.plan.screws.length).toBe(60);
    const { node, unwritten } = draw(wall, 0.26, 12);
    expect(unwritten).toEqual([]);
    const figures = listTextBoxes(node);
    expect(figures).toHaveLength(60);
    const frame = placeWall(wall.survey.wall, 0, 0, 0.26);
    wall.plan.screws.forEach((screw, k) => {
      const { text, left, right, top, bottom } = figures[k]!;
      expect(Math.abs(Number(text) - screw.projection), screw.id).toBeLessThanOrEqual(
        text.includes('.') ? 0.251 : 0.501,
      );
      const away = Math.hypot(
        (left + right) / 2 - frame.x(screw.along),
        (top + bottom) / 2 - frame.y(screw.up),
      );
      expect(away, screw.id).toBeLessThan(3 * 12);
    });
  });

  test('on a phone all sixty find room, in smaller figures', () => {
    expect(draw(fourBoards(), 340 / 3600, 11).unwritten).toEqual([]);
  });

  test('a figure without room is left out and named, none is drawn over another', () => {
    const { node, unwritten } = draw(fourBoards(), 0.02, 12);
    expect(unwritten.length).toBeGreaterThan(10);
    const figures = listTextBoxes(node);
    expect(figures.length + unwritten.length).toBe(60);
    figures.forEach((a, k) => figures.slice(k + 1).forEach((b) => expect(areOver(a, b)).toBe(false)));
  });

  test('screws that need the user are in the signal colour, the others are not', () => {
    const wall = fourBoards();
    const screws = wall.plan.screws.map((screw, k) => ({
      ...screw,
      zone: (['thin', 'normal', 'packed', 'beyond'] as const)[k % 4]!,
    }));
    const frame = placeWall(wall.survey.wall, 0, 0, 0.26);
    const { node } = drawScrews({ ...wall.plan, screws }, frame, 'mm', makePen(12), new Room(frame));
    const fills = listElements(node, 'text').map(({ attrs }) => attrs.fill);
    expect(fills.slice(0, 4)).toEqual([look.signal, look.pencil, look.pencil, look.signal]);
  });
});

describe('zones', () => {
  test('their areas are those the plan states, to 1 % of the wall', () => {
    const wall = roughPlan();
    const areas = traceBed(wall.survey, wall.solution.surface, wall.plan);
    const { width, height } = wall.survey.wall;
    const [packed, normal] = ['packed', 'normal'].map((zone) =>
      wall.plan.zones.find((each) => each.zone === zone)!,
    );
    // packed lies nowhere near the window; thin and beyond are empty
    expect(measureArea(areas.zones.packed) / 1e6).toBeCloseTo(packed!.areaM2, 1);
    expect(measureArea(areas.zones.packed)).toBeGreaterThan(0.04 * width * height);
    expect(areas.zones.beyond).toEqual([]);
    expect(normal!.areaM2 + packed!.areaM2).toBeCloseTo((width * height - 700 * 1200) / 1e6, 6);
  });

  test('each that occurs is hatched and named on the wall and in the legend', () => {
    const said = sayAll(longWall());
    for (const words of [
      'too thin, hack back',
      'adhesive alone',
      'packing strips first',
      'too deep for dabs',
      'measure again',
    ])
      expect(said).toContain(words);
    expect(said).toContain(' too deep ');
  });

  test('one that does not occur is not spoken of', () => {
    const said = sayAll(roughPlan());
    expect(said).toContain('packing strips first (6%)');
    for (const words of ['too thin', 'too deep', 'measure again']) expect(said).not.toContain(words);
  });
});

describe('what is said', () => {
  test('the back of the boards, from the laser plane at both ends', () => {
    const wall = roughPlan();
    const plan = { ...wall.plan, bedPlane: { p: -52.4, q: -1.6 / 3600, r: 0 } };
    expect(sayAll({ ...wall, plan })).toContain(
      'Back of boards: 52.4 mm from laser plane at the left end, 54 at the right, plumb.',
    );
    const leaning = { ...wall.plan, bedPlane: { p: -52.4, q: 0, r: 3 / 2450 } };
    expect(sayAll({ ...wall, plan: leaning })).toContain('at the floor; 3 mm further out at the ceiling');
  });

  test('title, note, sides, wall and openings with their figures, in mm and in inches', () => {
    const said = sayAll(roughPlan(), { note: 'version 0.1, 14 March' });
    for (const words of [
      'Boathouse store, east wall',
      'version 0.1, 14 March',
      'left',
      'right',
      'floor',
      'ceiling',
      '3600',
      '2450',
    ])
      expect(said).toContain(words);
    expect(said).toContain('window o1 700 × 1200');
    expect(said).toContain('socket');
    const inches = sayAll(makeWall({ units: 'inch' }));
    for (const words of ['141 3/4', '96 7/16', '27 9/16 × 47 1/4', 'lengths in inches'])
      expect(inches).toContain(words);
  });

  test('the high point with its bed', () => {
    expect(sayAll(fourBoards(), { layout: 'screen' })).toContain('high point: bed 5, laser');
  });
});

describe('the sheet', () => {
  test('is as large as the paper and the wall is drawn to the scale it says', () => {
    const drawing = drawPlan(planOf(roughPlan()), { paper: 'a4' });
    expect(drawing.attrs).toMatchObject({ viewBox: '0 0 297 210', width: '297mm', height: '210mm' });
    expect(listTexts(drawing).join(' ')).toContain('1 : 20 on A4');
    const widths = listElements(drawing, 'rect').map(({ attrs }) => Number(attrs.width));
    expect(widths.filter((width) => Math.abs(width - 3600 / 20) < 1e-9).length).toBeGreaterThan(0);
  });

  test('the scale bar is 1000 mm long in that scale', () => {
    const drawing = drawPlan(planOf(roughPlan()), { paper: 'a4' });
    const fifths = listElements(drawing, 'rect').filter(
      ({ attrs }) => Math.abs(Number(attrs.width) - 10) < 1e-9,
    );
    expect(fifths).toHaveLength(5);
    expect(listTexts(drawing)).toContain('1000 mm');
  });

  test('scales are round and the wall fits', () => {
    const room = { left: 0, right: 180, top: 0, bottom: 120 };
    expect(chooseScale({ width: 3600, height: 2400 }, room)).toBe(20);
    expect(chooseScale({ width: 3601, height: 2400 }, room)).toBe(25);
    expect(chooseScale({ width: 1000, height: 3000 }, room)).toBe(25);
    expect(chooseScale({ width: 99000, height: 3000 }, room)).toBe(600);
  });

  test('a title of many words and letters of other alphabets is kept on the sheet', () => {
    const wall = makeWall({ title: 'Ωmega '.repeat(40) });
    expect(toSvg(drawPlan(planOf(wall)))).toContain('...');
  });
});

test('openings are drawn over the bands, so nothing shows through them', () => {
  const wall = roughPlan();
  const frame = placeWall(wall.survey.wall, 0, 0, 0.25);
  const areas = traceBed(wall.survey, wall.solution.surface, wall.plan);
  const { node } = drawPlanMap(planOf(wall), areas, frame, makePen(12));
  const text = toSvg(node);
  const opening = text.indexOf('x="375" y="87.5" width="175" height="300" fill="#fdfbf5"');
  expect(opening).toBeGreaterThan(0);
  expect(text.lastIndexOf('fill-rule="evenodd"')).toBeLessThan(opening);
  for (const box of listTextBoxes(node).filter(({ bold }) => bold))
    expect(box.left < 550 && box.right > 375 && box.top < 387.5 && box.bottom > 87.5, box.text).toBe(false);
});

test('an even wall has one band, and one that is nowhere known is still drawn', () => {
  const flat = makeWall({}, () => -60);
  expect(sayAll(flat)).toContain('Bed depth, mm all');
  const wall = roughPlan();
  const surface = { ...wall.solution.surface, sigma: wall.solution.surface.sigma.map(() => NaN) };
  expect(() => toSvg(drawPlan({ ...planOf(wall), surface }))).not.toThrow();
});
