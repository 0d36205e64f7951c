import { expect, test } from 'vitest';
import { addLine, addMask, removeLine, removeMask, setColour, setSheet } from '../../src/app/editLines.ts';
import { addPoint } from '../../src/app/editPoints.ts';
import { markGap } from '../../src/app/editGaps.ts';
import { makePhoto, makeSurvey } from '../../src/app/newSurvey.ts';
import type { Survey } from '../../src/core/survey.ts';

const facts = { widthPx: 400, heightPx: 300, focal35Mm: null };
const base = makeSurvey('Wall', 3600, 2450, 'mm');
const survey: Survey = {
  ...base,
  photos: [makePhoto(base, 'photos/a.jpg', facts, { axis: 'level', colour: 'green' })],
};
const photoOf = (each: Survey) => each.photos[0]!;
const seen = markGap(addPoint(survey, 'f1', 'l1', { u: 10, v: 20 }), 'f1', 'l1', 100, 120);

test('the height of a line is typed without losing its points', () => {
  const line = photoOf(setSheet(seen, 'f1', 'l1', { at: 800 })).lines[0]!;
  expect(line.sheet).toEqual({ axis: 'level', at: 800 });
  expect(line.points.length).toBe(1);
  expect(line.gaps.length).toBe(1);
});

test('another axis is another line: it is looked for anew', () => {
  const line = photoOf(setSheet(seen, 'f1', 'l1', { axis: 'plumb' })).lines[0]!;
  expect(line).toMatchObject({ sheet: { axis: 'plumb', at: null }, points: [], gaps: [] });
});

test('what is said again changes nothing', () => {
  expect(setSheet(seen, 'f1', 'l1', { axis: 'level', at: null })).toBe(seen);
  expect(setColour(seen, 'f1', 'l1', 'green')).toBe(seen);
  expect(photoOf(setColour(seen, 'f1', 'l1', 'red')).lines[0]!.colour).toBe('red');
});

test('lines come with a free id and go by it', () => {
  const two = addLine(survey, 'f1', 'plumb', 'red');
  expect(photoOf(two).lines.map((line) => line.id)).toEqual(['l1', 'l2']);
  const back = addLine(removeLine(two, 'f1', 'l1'), 'f1', 'level', 'green');
  expect(photoOf(back).lines.map((line) => line.id)).toEqual(['l2', 'l1']);
});

test('a part to leave out may be drawn from any corner; one of no size is none', () => {
  const masked = addMask(survey, 'f1', { u: 50, v: 60, width: -20, height: -30 });
  expect(photoOf(masked).masks).toEqual([{ u: 30, v: 30, width: 20, height: 30 }]);
  expect(addMask(survey, 'f1', { u: 50, v: 60, width: 0, height: 9 })).toBe(survey);
  expect(photoOf(removeMask(masked, 'f1', 0)).masks).toEqual([]);
});
