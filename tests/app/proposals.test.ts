import { describe, expect, test } from 'vitest';
import { addLine, addPin, removePin, setLaserOff, setSheet } from '../../src/app/editLines.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import { adoptSeen, findAsked, findTaken, takeProposal } from '../../src/app/proposals.ts';
import { imageFromWall, type Camera } from '../../src/core/camera/camera.ts';
import type { FoundLine } from '../../src/core/line/foundLine.ts';
import type { LineAxis, LinePoint, Survey } from '../../src/core/survey.ts';

const base = makeSurvey('Wall', 3600, 2450, 'mm');
const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };
const photo = makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' });
const survey = { ...base, photos: [photo] };

const propose = (axis: LineAxis, across: number, colour: 'red' | 'green' = 'green'): FoundLine => ({
  axis,
  colour,
  confidence: 0.9,
  widthPx: 4,
  points: Array.from({ length: 100 }, (_, i): LinePoint => {
    const [u, v] = axis === 'level' ? [i, across] : [across, i];
    return { u, v, sigma: 0.1, state: 'found' };
  }),
  gaps: [{ from: 40, to: 44 }],
});
const linesOf = (of: Survey) => of.photos[0]!.lines;

describe('takeProposal', () => {
  test('a photo with a line to look for: that line has its axis, colour and points at once', () => {
    const [line, ...more] = linesOf(takeProposal(survey, 'f1', 'l1', propose('plumb', 120, 'red')));
    expect(more).toEqual([]);
    expect(line).toMatchObject({ id: 'l1', colour: 'red', sheet: { axis: 'plumb', at: null } });
    expect(line!.points).toHaveLength(100);
    expect(line!.gaps).toEqual([{ from: 40, to: 44 }]);
  });

  test('with the camera known, what runs beyond the ends of the wall is left out, and it still counts as taken', () => {
    const camera: Camera = {
      position: { along: 1800, up: 1700, out: 2600 },
      rotationRad: [0, 0, 0],
      focalPx: 200,
      k1: 0,
      widthPx: 400,
      heightPx: 300,
    };
    const typed = setSheet(survey, 'f1', 'l1', { at: 800 });
    const course = Array.from({ length: 300 }, (_, i) => ({ along: -393 + 15 * i, up: 800, out: -60 }));
    const points = course.map((place): LinePoint => {
      const { u, v } = imageFromWall(camera, place);
      return { u, v, sigma: 0.1, state: 'found' };
    });
    const proposal = { ...propose('level', 0), points };
    const taken = takeProposal(typed, 'f1', 'l1', proposal, camera);
    const on = course.filter(({ along }) => along >= 5 && along <= 3595).length;
    expect(linesOf(taken)[0]!.points).toHaveLength(on);
    expect(on).toBeLessThan(250);
    expect(findTaken(taken.photos[0]!, proposal)).toBe(0);
    expect(linesOf(takeProposal(typed, 'f1', 'l1', proposal))[0]!.points).toHaveLength(300);
  });

  test('a level and a plumb line of one picture are two lines, each with its own height', () => {
    const typed = setSheet(survey, 'f1', 'l1', { at: 800 });
    const one = takeProposal(typed, 'f1', 'l1', propose('level', 150));
    const two = takeProposal(one, 'f1', 'l1', propose('plumb', 90));
    expect(linesOf(two).map(({ id, sheet }) => [id, sheet.axis, sheet.at])).toEqual([
      ['l1', 'level', 800],
      ['l2', 'plumb', null],
    ]);
  });

  test('a height that was typed for a level line is not given to a plumb one', () => {
    const typed = setSheet(survey, 'f1', 'l1', { at: 800 });
    const lines = linesOf(takeProposal(typed, 'f1', 'l1', propose('plumb', 90)));
    expect(lines.map(({ sheet }) => sheet)).toEqual([
      { axis: 'level', at: 800 },
      { axis: 'plumb', at: null },
    ]);
    expect(lines[0]!.points).toEqual([]);
  });

  test('another line that runs the same way takes the place of the chosen one, and its pins go', () => {
    const one = addPin(takeProposal(survey, 'f1', 'l1', propose('level', 150)), 'f1', 'l1', { u: 3, v: 150 });
    const [line, ...more] = linesOf(takeProposal(one, 'f1', 'l1', propose('level', 220)));
    expect(more).toEqual([]);
    expect(line!.points[0]!.v).toBe(220);
    expect(line!.pins).toBeUndefined();
  });

  test('a line that was added for it is used first', () => {
    const one = addLine(takeProposal(survey, 'f1', 'l1', propose('level', 150)), 'f1', 'level', 'green');
    const lines = linesOf(takeProposal(one, 'f1', 'l1', propose('level', 220)));
    expect(lines.map(({ points }) => points[0]!.v)).toEqual([150, 220]);
  });
});

test('a proposal is told taken where its points are those of a line', () => {
  const taken = takeProposal(survey, 'f1', 'l1', propose('level', 150)).photos[0]!;
  expect(findTaken(taken, propose('level', 151))).toBe(0);
  expect(findTaken(taken, propose('level', 160))).toBe(-1);
  expect(findTaken(taken, propose('plumb', 50))).toBe(-1);
  expect(findTaken(photo, propose('level', 150))).toBe(-1);
});

test('the proposal asked for has the axis and colour of the line, and lies in its corridor', () => {
  const line = photo.lines[0]!;
  const proposals = [propose('plumb', 90), propose('level', 60), propose('level', 200)];
  expect(findAsked(line, proposals, null)).toBe(1);
  const path = [
    { u: -10, v: 205 },
    { u: 410, v: 205 },
  ];
  expect(findAsked(line, proposals, { path, halfWidthPx: 20 })).toBe(2);
  expect(findAsked({ ...line, colour: 'red' }, proposals, null)).toBe(-1);
});

test('pins are added, removed and given up with another axis; the last one leaves no empty list', () => {
  const one = addPin(addPin(survey, 'f1', 'l1', { u: 1, v: 2 }), 'f1', 'l1', { u: 3, v: 4 });
  expect(linesOf(one)[0]!.pins).toEqual([
    { u: 1, v: 2 },
    { u: 3, v: 4 },
  ]);
  const less = removePin(one, 'f1', 'l1', 0);
  expect(linesOf(less)[0]!.pins).toEqual([{ u: 3, v: 4 }]);
  expect(linesOf(removePin(less, 'f1', 'l1', 0))[0]!.pins).toBeUndefined();
  expect(linesOf(setSheet(one, 'f1', 'l1', { axis: 'plumb' }))[0]!.pins).toBeUndefined();
  expect(() => removePin(less, 'f1', 'l1', 1)).toThrow('pin');
});

test('a picture with the laser off is named and not named again', () => {
  const named = setLaserOff(survey, 'f1', 'photos/off.jpg');
  expect(named.photos[0]!.laserOff).toBe('photos/off.jpg');
  expect(setLaserOff(named, 'f1', 'photos/off.jpg')).toBe(named);
  expect(setLaserOff(named, 'f1', undefined).photos[0]!.laserOff).toBeUndefined();
});

describe('adoptSeen', () => {
  const adopted = (of: Survey, ...seen: FoundLine[]) => adoptSeen(of, 'f1', seen);
  const weak = (line: FoundLine): FoundLine => ({ ...line, confidence: 0.4 });

  test('a photo of which nothing is said shows the one line plainly seen: its axis and colour, nothing else', () => {
    const [line] = linesOf(adopted(survey, weak(propose('level', 30)), propose('plumb', 120, 'red')));
    expect(line).toMatchObject({ colour: 'red', sheet: { axis: 'plumb', at: null }, points: [], gaps: [] });
  });

  test('nothing is taken that the user said otherwise, or where two are seen alike, or none is sure', () => {
    const seen = propose('plumb', 120);
    const placed = setSheet(survey, 'f1', 'l1', { at: 500 });
    expect(adopted(placed, seen)).toBe(placed);
    const two = addLine(survey, 'f1', 'level', 'green');
    expect(adopted(two, seen)).toBe(two);
    expect(adopted(survey, seen, propose('level', 30))).toBe(survey);
    expect(adopted(survey, weak(seen))).toBe(survey);
    expect(adoptSeen(survey, 'f9', [seen])).toBe(survey);
  });
});
