import { expect, test } from 'vitest';
import { foreseePlace, isDoubtful } from '../../../../src/ui/photo/marks/foresee.ts';
import { placeWords } from '../../../../src/ui/photo/marks/askWords.ts';
import { placePhoto } from '../../../../src/ui/photo/measure.ts';
import { makeSurvey } from '../../../truth/survey.ts';

// the made survey's marks lie where its true camera sees them, to 1 px
const { survey } = makeSurvey(71, 'plaster', { levels: [750], plumbs: [], everyPx: 60 });
const photo = survey.photos[0]!;
const byAlong = [...photo.marks].sort((a, b) => a.along - b.along);
const [left, right] = [byAlong[0]!, byAlong.at(-1)!];

test('two marks foretell every other to within their own doubt, the camera to a few px', () => {
  const { resection } = placePhoto(photo, survey.phones[0]!.lens, -60, 8);
  for (const mark of photo.marks) {
    const rough = foreseePlace([left, right], mark, null, -60, 8)!;
    expect(Math.hypot(rough.u - mark.u, rough.v - mark.v)).toBeLessThan(3 * rough.sigmaPx);
    const fine = foreseePlace(photo.marks, mark, resection, -60, 8)!;
    const missPx = Math.hypot(fine.u - mark.u, fine.v - mark.v);
    expect(missPx).toBeLessThan(Math.max(5, 3 * fine.sigmaPx));
    expect(fine.sigmaPx).toBeLessThan(rough.sigmaPx);
  }
});

test('a press at the wrong end of the tape is asked about, a right one is not', () => {
  expect(foreseePlace([left], right, null, -60, 8)).toBeNull();
  expect(isDoubtful(right, null, [left], right)).toBe(false);
  // what is named as the right end is pressed left of the left one
  expect(isDoubtful({ u: left.u - 300, v: left.v }, null, [left], right)).toBe(true);
  expect(isDoubtful(left, null, [], left)).toBe(false);
  const foreseen = { u: 100, v: 100, sigmaPx: 4 };
  expect(isDoubtful({ u: 128, v: 100 }, foreseen, photo.marks, left)).toBe(false);
  expect(isDoubtful({ u: 135, v: 100 }, foreseen, photo.marks, left)).toBe(true);
  expect(isDoubtful({ u: 135, v: 100 }, { ...foreseen, sigmaPx: 10 }, photo.marks, left)).toBe(false);
});

test('places are called as one would say them', () => {
  const opening = { id: 'o1', kind: 'window', along: 1500, up: 900, width: 700, height: 1100 };
  const wall = { ...survey.wall, openings: [opening] };
  const say = (along: number, up: number, kind: 'tape' | 'corner' | 'place') =>
    placeWords({ along, up, kind }, 'along', wall, 'mm');
  expect(say(3500, 690, 'tape')).toBe('3500 on the tape');
  expect(say(1500, 2000, 'corner')).toBe('the upper left corner of the window');
  expect(say(2200, 900, 'corner')).toBe('the lower right corner of the window');
  expect(say(640, 300, 'place')).toBe('the place 640 from the left, 300 up');
});
