import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { mergeMeasures, spreadPlaces } from '../../src/draw/boardMeasures.ts';
import { drawBoard, listBoardMeasures } from '../../src/draw/boardPicture.ts';
import { measureShape } from '../../src/draw/boardShape.ts';
import { areOver } from '../../src/draw/room.ts';
import { listTexts } from '../../src/draw/tree.ts';
import { boardCases, lCutBoard, slopingBoard, uCutBoard } from './boardCases.ts';
import { listElements, listTextBoxes } from './boxes.ts';
import { makeSurvey } from './walls.ts';

const { wall } = makeSurvey();
const placesOf = (board: typeof uCutBoard) => {
  const { bottom, left, right } = listBoardMeasures(measureShape(board));
  const at = (measures: typeof bottom) => measures.map(({ atMm }) => Math.round(atMm * 10) / 10);
  return { bottom: at(bottom), left: at(left), right: at(right) };
};

describe('measures', () => {
  test('of a U cut and a socket hole run from the left and the bottom edge, each once', () => {
    expect(placesOf(uCutBoard)).toEqual({
      bottom: [400, 480, 900, 1200],
      left: [288, 368, 900, 2100, 2433],
      right: [],
    });
  });

  test('of an L cut stop at the corner that is left', () => {
    expect(placesOf(lCutBoard)).toEqual({ bottom: [300, 1200], left: [200, 595], right: [] });
  });

  test('of sloping ends give both corners at each side, from the level of the lowest one', () => {
    // 97 in at the left; at the right from 1 in to 95 in; the hole 5 to 8 in along, 43 to 46 in up
    const inches = (places: readonly number[]) => places.map((at) => Math.round((at / 25.4) * 100) / 100);
    const { bottom, left, right } = placesOf(slopingBoard);
    expect(inches(bottom)).toEqual([5, 8, 48]);
    expect(inches(left)).toEqual([43, 46, 97]);
    expect(inches(right)).toEqual([1, 95]);
  });

  test('a sloping corner that is cut away is not measured', () => {
    const door = {
      ...slopingBoard,
      holes: [],
      cutouts: [{ along: 3457.6, up: 12.7, width: 200, height: 2000 }],
    };
    expect(placesOf(door)).toEqual({ bottom: [1019.2, 1219.2], left: [2000, 2463.8], right: [2413] });
  });

  test('a bend of the ceiling within the board is measured both ways', () => {
    const bent = {
      ...slopingBoard,
      holes: [],
      outline: [
        { along: 2438.4, up: 12.7 },
        { along: 3657.6, up: 12.7 },
        { along: 3657.6, up: 2412.7 },
        { along: 3038.4, up: 2476.5 },
        { along: 2438.4, up: 2476.5 },
      ],
    };
    expect(placesOf(bent)).toEqual({ bottom: [600, 1219.2], left: [2463.8], right: [2400] });
  });
});

describe('drawing of a board', () => {
  const textsOf = (board: typeof uCutBoard, units: 'mm' | 'inch') =>
    listTexts(drawBoard({ board, wall, units }, { widthPx: 360 }));

  test('writes every measure, the letter, the edges and the hole', () => {
    const texts = textsOf(uCutBoard, 'mm');
    for (const text of ['400', '480', '900', '1200', '288', '368', '2100', '2433'])
      expect(texts, text).toContain(text);
    expect(texts).toEqual(expect.arrayContaining(['A', 'cut edge', 'bound edge', 'socket 80 × 80']));
  });

  test('writes inches as fractions', () => {
    expect(textsOf(slopingBoard, 'inch')).toEqual(
      expect.arrayContaining(['48', '97', '95', '43', '46', '5', '8']),
    );
    expect(textsOf(uCutBoard, 'inch')).toEqual(expect.arrayContaining(['47 1/4', '95 13/16', '35 7/16']));
  });

  test('draws a box once, though it is a cut-out and a hole', () => {
    const shape = measureShape(uCutBoard);
    expect(shape.cutouts).toHaveLength(1);
    expect(shape.holes).toHaveLength(1);
  });

  test('the dashed side is where the cut-out runs out of the board', () => {
    const dashed = (board: typeof uCutBoard) =>
      listElements(drawBoard({ board, wall, units: 'mm' }), 'line').filter(
        ({ attrs }) => attrs['stroke-dasharray'] !== undefined,
      );
    expect(dashed(uCutBoard)).toHaveLength(1);
    expect(dashed(lCutBoard)).toHaveLength(2);
    expect(dashed(slopingBoard)).toHaveLength(0);
  });

  test('a strip too narrow for its letter inside still has its measures', () => {
    const strip = { ...uCutBoard, width: 60, cutouts: [], holes: [] };
    expect(textsOf(strip, 'mm')).toEqual(expect.arrayContaining(['60', '2433']));
  });
});

test.each(boardCases)('texts of $name do not run into each other', ({ draw }) => {
  const boxes = listTextBoxes(draw());
  expect(boxes.length).toBeGreaterThan(1);
  const collisions = boxes.flatMap((a, k) =>
    boxes.slice(k + 1).flatMap((b) => (areOver(a, b) ? [`${a.text} / ${b.text}`] : [])),
  );
  expect(collisions).toEqual([]);
});

describe('places of texts', () => {
  const wanted = fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 1, maxLength: 12 });

  test('keep apart, in order and inside where there is room; nobody moves without need', () => {
    fc.assert(
      fc.property(wanted, fc.double({ min: 0.5, max: 9, noNaN: true }), (given, apart) => {
        const sorted = [...given].sort((a, b) => a - b);
        const places = spreadPlaces(sorted, apart, 0, 100);
        places.slice(1).forEach((place, k) => {
          expect(place - places[k]!).toBeGreaterThan(apart - 1e-9);
        });
        if ((sorted.length - 1) * apart <= 100) {
          expect(places[0]).toBeGreaterThan(-1e-9);
          expect(places.at(-1)).toBeLessThan(100 + 1e-9);
        }
        const isFree = sorted.slice(1).every((place, k) => place - sorted[k]! >= apart);
        if (isFree) places.forEach((place, k) => expect(place).toBeCloseTo(sorted[k]!, 9));
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  test('move least: no shift of one crowd as a whole is better', () => {
    // three texts 10 apart wanted at 0, 1, 2 about their mean: sum of squares is least where the mean is kept
    expect(spreadPlaces([50, 51, 52], 10, 0, 100)).toEqual([41, 51, 61]);
  });

  test('measures within half a millimetre are one, the whole size kept', () => {
    const whole = { atMm: 1200, reachMm: 0, whole: true };
    expect(mergeMeasures([{ atMm: 1199.8, reachMm: 500 }, whole])).toEqual([whole]);
  });
});
