import fc from 'fast-check';
import { expect, test } from 'vitest';
import { imageFromWall } from '../../src/core/camera/camera.ts';
import { placeAtScale, scaleLine, scalePhoto } from '../../src/vision/photoScale.ts';
import { makeSurvey } from '../truth/survey.ts';

test('a place scaled and scaled back is the same place, and the picture keeps its edges', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 12000, noNaN: true }),
      fc.constantFrom(0.25, 0.5, 1 / 3),
      (px, scale) => {
        expect(placeAtScale(placeAtScale(px, scale), 1 / scale)).toBeCloseTo(px, 8);
      },
    ),
  );
  // half a pixel beyond the first and the last centre
  expect(placeAtScale(-0.5, 0.25)).toBe(-0.5);
  expect(placeAtScale(3999.5, 0.25)).toBe(999.5);
});

test('a photo at half size is what a camera of half its resolution sees', () => {
  const { survey, cameras, truth } = makeSurvey(5, 'plaster', {
    markNoisePx: 0,
    lineNoisePx: 0,
    levels: [800],
    plumbs: [],
  });
  const [photo] = survey.photos;
  const half = scalePhoto(photo!, 0.5);
  const { focalPx, widthPx, heightPx } = cameras[0]!;
  const camera = { ...cameras[0]!, focalPx: focalPx / 2, widthPx: widthPx / 2, heightPx: heightPx / 2 };
  for (const [i, { along, up }] of photo!.marks.entries()) {
    const seen = imageFromWall(camera, { along, up, out: truth(along, up) });
    expect(half.marks[i]!.u).toBeCloseTo(seen.u, 6);
    expect(half.marks[i]!.v).toBeCloseTo(seen.v, 6);
  }
  const line = scaleLine(half.lines[0]!, 2, 2);
  expect(line.points[100]!.v).toBeCloseTo(photo!.lines[0]!.points[100]!.v, 9);
  expect(line.points[100]!.sigma).toBeCloseTo(photo!.lines[0]!.points[100]!.sigma, 12);
});

test('pins, masks and gaps go with it', () => {
  const { survey } = makeSurvey(5, 'plaster', { levels: [800], plumbs: [1200] });
  for (const photo of survey.photos) {
    const [line] = photo.lines;
    const scaled = scalePhoto(
      {
        ...photo,
        masks: [{ u: 100, v: 200, width: 40, height: 60 }],
        lines: [{ ...line!, gaps: [{ from: 99.5, to: 199.5 }], pins: [{ u: 9.5, v: 19.5 }] }],
      },
      0.5,
    );
    expect(scaled.masks).toEqual([{ u: 49.75, v: 99.75, width: 20, height: 30 }]);
    expect(scaled.lines[0]!.gaps).toEqual([{ from: 49.5, to: 99.5 }]);
    expect(scaled.lines[0]!.pins).toEqual([{ u: 4.5, v: 9.5 }]);
  }
});
