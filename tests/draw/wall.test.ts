import { describe, expect, test } from 'vitest';
import { look } from '../../src/draw/look.ts';
import { listTexts, toSvg } from '../../src/draw/tree.ts';
import { drawWall, frameOfWall } from '../../src/draw/wall.ts';
import { areOver } from '../../src/draw/room.ts';
import { listElements, listTextBoxes, textOf } from './boxes.ts';
import { makeSurvey, roughPlan } from './walls.ts';

const linesOf = (drawing: ReturnType<typeof drawWall>) =>
  listElements(drawing, 'line').filter(({ attrs }) => [look.green, look.red].includes(attrs.stroke as never));

test('a tap is placed where it was drawn: the frame inverts', () => {
  const { wall } = makeSurvey();
  for (const size of [{}, { widthPx: 390, fontPx: 11 }, { strip: true }]) {
    const frame = frameOfWall(wall, size);
    expect(frame.along(frame.x(1234))).toBeCloseTo(1234, 9);
    expect(frame.up(frame.y(567))).toBeCloseTo(567, 9);
    const outline = listElements(drawWall({ survey: makeSurvey() }, size), 'rect')[1]!;
    expect(outline.attrs).toMatchObject({ x: frame.x(0), y: frame.y(wall.height) });
  }
});

test('a strip is low and says nothing but names of openings; the large drawing is not higher than a screen', () => {
  const strip = drawWall({ survey: makeSurvey() }, { strip: true });
  expect(Number(strip.attrs.height)).toBeLessThanOrEqual(120);
  expect(listTexts(strip).filter((text) => /\d/.test(text))).toEqual(['o1']);
  const tall = makeSurvey();
  expect(
    Number(drawWall({ survey: { ...tall, wall: { ...tall.wall, width: 900 } } }).attrs.height),
  ).toBeLessThanOrEqual(760.01);
});

describe('lines', () => {
  test('a level line stands at its height, a plumb one at its place', () => {
    const survey = makeSurvey();
    const frame = frameOfWall(survey.wall, {});
    const drawn = linesOf(drawWall({ survey }));
    expect(drawn).toHaveLength(8);
    expect(drawn[0]!.attrs.y1).toBeCloseTo(frame.y(300), 9);
    expect(drawn[0]!.attrs.y2).toBeCloseTo(frame.y(300), 9);
    expect(drawn[7]!.attrs.x1).toBeCloseTo(frame.x(2900), 9);
  });

  test('one without its height is not drawn, one not looked for is dashed pencil', () => {
    const survey = makeSurvey();
    const photos = survey.photos.map((photo, k) => ({
      ...photo,
      lines: photo.lines.map((line) => ({
        ...line,
        points: [],
        sheet: { ...line.sheet, at: k === 0 ? null : line.sheet.at },
      })),
    }));
    const drawing = drawWall({ survey: { ...survey, photos } });
    expect(linesOf(drawing)).toHaveLength(0);
    expect(
      listElements(drawing, 'line').filter(({ attrs }) => attrs['stroke-dasharray'] !== undefined),
    ).toHaveLength(7);
  });

  test('it reaches as far as the marks of its photograph', () => {
    const survey = makeSurvey();
    const mark = { u: 0, v: 0, up: 400, sigma: 1 };
    const photos = survey.photos.map((photo) => ({
      ...photo,
      marks: [
        { ...mark, along: 500 },
        { ...mark, along: 2500 },
        { ...mark, along: 1500, up: 900 },
      ],
    }));
    const frame = frameOfWall(survey.wall, {});
    const [first, ...rest] = linesOf(drawWall({ survey: { ...survey, photos } }));
    expect(first!.attrs.x1).toBeCloseTo(frame.x(500), 9);
    expect(first!.attrs.x2).toBeCloseTo(frame.x(2500), 9);
    expect(rest.at(-1)!.attrs.y2).toBeCloseTo(frame.y(900), 9);
  });
});

test('a reading that does not agree is in the signal colour with a question mark; the others are not', () => {
  const { survey, solution } = roughPlan();
  const residuals = solution.residuals.map((each) =>
    each.subject === 'r2' ? { ...each, state: 'suspect' as const } : each,
  );
  const drawing = drawWall({ survey, solution: { ...solution, residuals } });
  const asked = listElements(drawing, 'text').filter((node) => textOf(node).endsWith(' ?'));
  expect(asked).toHaveLength(1);
  expect(asked[0]!.attrs.fill).toBe(look.signal);
});

test('what is left out by hand stands in pencil and says so, whatever its test', () => {
  const { survey, solution } = roughPlan();
  const residuals = solution.residuals.map((each) =>
    each.subject === 'r2' ? { ...each, state: 'by_hand' as const, w: 9 } : each,
  );
  const readings = survey.readings.map((each) => ({ ...each, leftOut: each.id === 'r2' }));
  const photos = survey.photos.map((each) => ({ ...each, leftOut: each.id === 'f1' }));
  const drawing = drawWall({
    survey: { ...survey, readings, photos },
    solution: { ...solution, residuals },
  });
  const texts = listElements(drawing, 'text').filter((node) => textOf(node).endsWith(' (out)'));
  expect(texts.map(({ attrs }) => attrs.fill).sort()).toEqual([look.graphite, look.edge].sort());
  expect(listTexts(drawing).filter((text) => text.endsWith(' ?'))).toEqual([]);
  expect(linesOf(drawing).length).toBe(survey.photos.length - 1);
});

test('texts do not run into each other', () => {
  for (const widthPx of [390, 900]) {
    const boxes = listTextBoxes(drawWall(roughPlan(), { widthPx }));
    expect(boxes.length).toBeGreaterThan(15);
    boxes.forEach((a, k) =>
      boxes.slice(k + 1).forEach((b) => expect(areOver(a, b), `${a.text} / ${b.text}`).toBe(false)),
    );
  }
});

test('a surface nowhere known is drawn as none', () => {
  const { survey, solution } = roughPlan();
  const surface = { ...solution.surface, out: solution.surface.out.map(() => NaN) };
  expect(toSvg(drawWall({ survey, solution: { ...solution, surface, profiles: [] } }))).not.toContain(
    'evenodd',
  );
});
