import { describe, expect, test } from 'vitest';
import type { Residual } from '../../../src/core/results.ts';
import { solveSurvey } from '../../../src/core/solve/solve.ts';
import type { Photo, Survey } from '../../../src/core/survey.ts';
import { expectQuality } from '../../../src/ui/quality/expectation.ts';
import { coverOf, listFigures, sayCoverage } from '../../../src/ui/quality/figures.ts';
import { listMends, mendKinds, sortMends, type Mend } from '../../../src/ui/quality/mends.ts';
import { cameraTime, sayPicture } from '../../../src/ui/quality/pictureWords.ts';
import { makeSurvey } from '../../truth/survey.ts';

const { survey } = makeSurvey(3, 'plaster', { levels: [400, 1150, 1900], plumbs: [], everyPx: 12 });
const solution = solveSurvey(survey);
const change = (at: number, part: Partial<Photo>): Survey => ({
  ...survey,
  photos: survey.photos.map((photo, index) => (index === at ? { ...photo, ...part } : photo)),
});
const kinds = (mends: readonly Mend[]) => mends.map(({ kind, photo }) => `${kind} ${photo}`);
const [first, second] = survey.photos;
const [id, other] = [first!.id, second!.id];

describe('what to mend first', () => {
  test('kinds come in their order, of a kind what gains most, else as in the survey', () => {
    const mend = (kind: Mend['kind'], photo: string, gainMm: number): Mend => ({
      ...{ kind, photo, gainMm },
      ...{ sentence: '', hash: '' },
    });
    const mixed = [...mendKinds].reverse().flatMap((kind) => [mend(kind, 'f1', 1), mend(kind, 'f2', 2)]);
    const sorted = sortMends([...mixed, mend('missing', 'f3', NaN), mend('suspects', 'f4', 1)]);
    expect(kinds(sorted)).toEqual([
      ...['missing f2', 'missing f1', 'missing f3', 'disagrees f2', 'disagrees f1', 'unfound f2'],
      ...['unfound f1', 'uncertain f2', 'uncertain f1', 'suspects f2', 'suspects f1', 'suspects f4'],
    ]);
  });

  test('a good survey has nothing to mend, solved or not', () => {
    expect(listMends(survey, null)).toEqual([]);
    expect(listMends(survey, solution)).toEqual([]);
  });

  test('what is missing leads to its place', () => {
    const [line] = first!.lines;
    const unmarked = listMends(change(0, { marks: [] }), null);
    expect(unmarked).toMatchObject([{ kind: 'missing', hash: `#photos/${id}/marks` }]);
    expect(unmarked[0]!.sentence).toBe(`Photo ${id} takes no part yet: set marks on the tape.`);
    const unplaced = { ...line!, sheet: { ...line!.sheet, at: null } };
    expect(listMends(change(0, { lines: [unplaced] }), null)[0]!.hash).toBe(
      `#photos/${id}/line%20${line!.id}`,
    );
    const unfound = change(0, { lines: [{ ...line!, points: [] }] });
    expect(kinds(listMends(unfound, null))).toEqual([`unfound ${id}`]);
    expect(listMends(change(0, { marks: [], leftOut: true }), null)).toEqual([]);
  });

  test('a contradiction is told before the solve, and by the solve with its amount', () => {
    const marks = first!.marks.map((mark, k) => (k === 1 ? { ...mark, along: mark.along + 100 } : mark));
    const wrong = change(0, { marks });
    expect(listMends(wrong, null)[0]).toMatchObject({ kind: 'disagrees', photo: id });
    const residual: Residual = {
      ...{ kind: 'mark', subject: id, part: 'along', index: 1, residualMm: -9, sigmaMm: 1, w: 12 },
      ...{ redundancy: 0.8, detectableMm: 5, errorMm: 9.5, state: 'left_out' },
    };
    const [mend] = listMends(survey, { ...solution, residuals: [...solution.residuals, residual] });
    expect(mend).toMatchObject({ kind: 'disagrees', gainMm: 9.5, hash: `#photos/${id}/mark%202` });
    expect(mend!.sentence).toBe(`Mark 2 of photo ${id} seems 9.5 mm out of place along the wall (±0.8 mm).`);
  });

  test('a photo that sees badly, and doubted points, come after', () => {
    const photos = solution.photos.map((pose) => (pose.id === id ? { ...pose, offsetSigmaMm: 4.1 } : pose));
    const [line] = second!.lines;
    const points = line!.points.map((point, k) => (k < 30 ? { ...point, state: 'suspect' as const } : point));
    const doubted = change(1, { lines: [{ ...line!, points }] });
    const mends = listMends(doubted, { ...solution, photos });
    expect(kinds(mends)).toEqual([`uncertain ${id}`, `suspects ${other}`]);
    expect(mends[0]!.sentence).toMatch(/sees the wall to ±4\.1 mm only/);
    expect(mends[1]!.sentence).toMatch(/^30 points \(\d+ %\) of the line at 1150 mm in photo/);
  });
});

describe('the figures of a photo', () => {
  test('with the rest, by itself, and what it rests on', () => {
    const expected = expectQuality(survey, first!);
    const figures = Object.fromEntries(
      listFigures(survey, first!, solution, expected).map(({ name, words }) => [name, words]),
    );
    const pose = solution.photos.find((each) => each.id === id)!;
    expect(figures['Sees the wall, with all the rest']).toBe(`±${Number(pose.offsetSigmaMm.toFixed(1))} mm`);
    expect(figures.Marks).toBe(`${first!.marks.length} used`);
    expect(figures['Where the phone stood']).toMatch(/^distance and height( and place along)? measured to ±/);
    // alone it knows less than with shift and tilt given by readings
    const [line] = expected!.lines;
    expect(line!.aloneMm).toBeGreaterThan(line!.shapeMm);
    expect(expectQuality(survey, first!)).toBe(expected);
    expect(expectQuality(survey, { ...first!, marks: [] })).toBeNull();
  });

  test('coverage is told by the solve or, before it, by the photo itself: about the same', () => {
    const [line] = first!.lines;
    const solved = coverOf(survey, first!, line!, solution, null)!;
    const alone = coverOf(survey, first!, line!, null, expectQuality(survey, first!))!;
    expect(solved.share).toBeGreaterThan(0.9);
    expect(alone.share).toBeCloseTo(solved.share, 1);
    expect(sayCoverage(line!, solved, 'mm')).toMatch(/^Seen on \d+ % of the wall, no point doubted\./);
    expect(coverOf(survey, first!, line!, null, null)).toBeNull();
    expect(sayCoverage({ ...line!, points: [] }, null, 'mm')).toBe('No points yet.');
  });
});

test('what a picture tells is said in one line, never what it does not tell', () => {
  const facts = { focal35Mm: 26, takenAt: '2026:03:14 09:30:00', camera: 'A1' } as never;
  const size = { widthPx: 4032, heightPx: 3024, focal35Mm: null };
  expect(sayPicture(size, facts)).toBe('12.2 MP, 26 mm lens, 14 Mar 2026, 09:30, A1');
  expect(sayPicture(size, null)).toBe('12.2 MP');
  expect(cameraTime('2026:13:14 09:30:00')).toBeNull();
});
