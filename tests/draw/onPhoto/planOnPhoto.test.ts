import { describe, expect, test } from 'vitest';
import { planeOut } from '../../../src/core/lining/bed.ts';
import { imageFromWall } from '../../../src/core/camera/camera.ts';
import type { Profile } from '../../../src/core/results.ts';
import { outlineBoard } from '../../../src/draw/onPhoto/photoBoards.ts';
import { layCaption, photoCautions } from '../../../src/draw/onPhoto/photoCaption.ts';
import { seeBed } from '../../../src/draw/onPhoto/photoContours.ts';
import { placeOnPhoto, tracePhoto, type PhotoLine } from '../../../src/draw/onPhoto/photoLines.ts';
import { seeScrews } from '../../../src/draw/onPhoto/photoScrews.ts';
import { rankFits, sightPhoto } from '../../../src/draw/onPhoto/photoSight.ts';
import { drawPlanOnPhoto, letterPx, usualLayers } from '../../../src/draw/onPhoto/planOnPhoto.ts';
import { makePen } from '../../../src/draw/look.ts';
import type { Point } from '../../../src/draw/rings.ts';
import { areOver } from '../../../src/draw/room.ts';
import { listTexts } from '../../../src/draw/tree.ts';
import { listTextBoxes } from '../boxes.ts';
import { photoPlan, sightOf, size, standing } from './photoPlan.ts';

const wall = photoPlan();
const seen = sightOf(wall);
const { sight, fit } = seen;

/** How far (px) a place lies from a drawn line. */
function offLine([x, y]: Point, lines: readonly PhotoLine[]): number {
  return Math.min(
    ...lines.flatMap((line) =>
      line.slice(1).map(([bx, by], k) => {
        const [ax, ay] = line[k]!;
        const [dx, dy] = [bx - ax, by - ay];
        const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
        return Math.hypot(x - ax - t * dx, y - ay - t * dy);
      }),
    ),
  );
}

describe('lines in perspective', () => {
  test('a long edge bows with the lens and the relief to under half a pixel', () => {
    const bent = sightOf(photoPlan(standing, -0.08)).sight;
    const line: Point[] = [
      [0, 60],
      [3600, 60],
    ];
    for (const lift of [bent.onWall, bent.onPlane(12.5)]) {
      const drawn = tracePhoto(bent, lift, line, false);
      const places = Array.from({ length: 1501 }, (_, k) => placeOnPhoto(bent, lift, [2.4 * k, 60])!).filter(
        ([x, y]) => x > 0 && y > 0 && x < size.widthPx && y < size.heightPx,
      );
      expect(places.length).toBeGreaterThan(1000);
      expect(Math.max(...places.map((place) => offLine(place, drawn)))).toBeLessThan(0.5);
    }
    // the bow itself is many times that
    const [from, to] = [0, 3600].map((along) => placeOnPhoto(bent, bent.onPlane(), [along, 60])!) as [
      Point,
      Point,
    ];
    expect(offLine(placeOnPhoto(bent, bent.onPlane(), [1800, 60])!, [[from, to]])).toBeGreaterThan(10);
  });

  test('a wall that runs past the camera is cut off at the picture, nothing comes round from behind', () => {
    const aside = sightOf(
      photoPlan({ ...standing, position: { along: 3000, up: 1200, out: 400 }, rotationRad: [0, 1.1, 0] }),
    );
    const lines = tracePhoto(
      aside.sight,
      aside.sight.onWall,
      [
        [-9000, 1200],
        [9000, 1300],
      ],
      false,
    );
    expect(lines).toHaveLength(1);
    for (const [x, y] of lines.flat()) {
      expect(x).toBeGreaterThanOrEqual(-1e-6);
      expect(x).toBeLessThanOrEqual(size.widthPx + 1e-6);
      expect(y).toBeGreaterThanOrEqual(-1e-6);
      expect(y).toBeLessThanOrEqual(size.heightPx + 1e-6);
    }
  });

  test('contours lie on the masonry at their depth and stop at openings', () => {
    const { levels } = seeBed(wall, sight);
    const shown = levels.filter(({ lines }) => lines.length > 0);
    expect(shown.length).toBeGreaterThan(2);
    const { camera } = sight;
    const opening = wall.survey.wall.openings[0]!;
    const inner = [0.1, 0.5, 0.9].flatMap((a) =>
      [0.1, 0.5, 0.9].map((b) =>
        placeOnPhoto(sight, sight.onWall, [
          opening.along + a * opening.width,
          opening.up + b * opening.height,
        ])!,
      ),
    );
    const contours = levels.flatMap(({ lines }) => lines);
    for (const place of inner) expect(offLine(place, contours)).toBeGreaterThan(20);
    // the ray through a corner of a contour meets the wall where the bed is that deep: looked for along the plane
    const { stepMm, nx } = wall.solution.surface;
    for (const { level, lines } of shown) {
      const [x, y] = lines[0]![Math.floor(lines[0]!.length / 2)]!;
      const near = Array.from(wall.plan.bed.keys()).reduce(
        (best, k) => {
          const [along, up] = [(k % nx) * stepMm, Math.floor(k / nx) * stepMm];
          const at = imageFromWall(camera, sight.onWall([along, up]));
          const px = Math.hypot(at.u + 0.5 - x, at.v + 0.5 - y);
          return px < best.px && !Number.isNaN(wall.plan.bed[k]!) ? { px, bed: wall.plan.bed[k]! } : best;
        },
        { px: Infinity, bed: NaN },
      );
      expect(Math.abs(near.bed - level)).toBeLessThan(1.5);
    }
  });

  test('a cut-out takes the edge of the board with it', () => {
    const board = {
      ...wall.plan.boards[0]!,
      ...{ along: 0, up: 0, width: 1000, height: 2000, outline: null },
      cutouts: [{ along: 700, up: 900, width: 300, height: 500 }],
    };
    const lines = outlineBoard(board);
    const length = lines.reduce(
      (sum, line) =>
        sum + line.slice(1).reduce((s, [x, y], k) => s + Math.hypot(x - line[k]![0], y - line[k]![1]), 0),
      0,
    );
    // 6000 round it, less 500 of the edge, and three sides of the cut-out
    expect(Math.abs(length - (6000 - 500 + 300 + 500 + 300))).toBeLessThan(6);
  });
});

describe('screws', () => {
  test('a head stands in front of its foot by what it projects', () => {
    for (const { screw, foot, head } of seeScrews(sight, wall.plan.screws)) {
      const spot: Point = [screw.along, screw.up];
      const { out } = sight.onWall(spot);
      const at = imageFromWall(sight.camera, {
        along: screw.along,
        up: screw.up,
        out: out + screw.projection,
      });
      expect(Math.hypot(at.u + 0.5 - head[0], at.v + 0.5 - head[1])).toBeLessThan(0.2);
      expect(out + screw.projection).toBeCloseTo(planeOut(wall.plan.bedPlane, ...spot), 0);
      expect(placeOnPhoto(sight, sight.onWall, spot)).toEqual(foot);
    }
  });

  test('every figure finds a place of its own at the size of print; too large, those without room are named', () => {
    const layers = { ...usualLayers, contours: false };
    const drawn = drawPlanOnPhoto(wall, 'f1', seen, { layers });
    expect(drawn.screws.length).toBeGreaterThan(30);
    expect(drawn.unwritten).toEqual([]);
    const boxes = listTextBoxes(drawn.node);
    const figures = boxes.filter(({ text }) => /^[A-Z]\d+: [\d.]+$/.test(text));
    expect(figures).toHaveLength(drawn.screws.length);
    for (const box of figures)
      expect(boxes.filter((other) => other !== box && areOver(box, other)).map(({ text }) => text)).toEqual(
        [],
      );
    const large = drawPlanOnPhoto(wall, 'f1', seen, { layers, fontPx: 5 * letterPx(size), note: '' });
    expect(large.unwritten.length).toBeGreaterThan(0);
    expect(listTexts(large.node).join(' ')).toMatch(/No room for the figures of/);
  });
});

describe('layers and words', () => {
  test('each layer adds its own words and nothing else', () => {
    const bare = {
      pale: false,
      contours: false,
      boards: null,
      screws: false,
      spots: false,
      packing: false,
      dabs: false,
    };
    const words = (layers: Partial<typeof usualLayers>) =>
      listTexts(drawPlanOnPhoto(wall, 'f1', seen, { layers: { ...bare, ...layers } }).node);
    expect(words({})).toEqual([]);
    expect(words({ boards: 'back' })).toContain(wall.plan.boards[0]!.id);
    expect(words({ screws: true }).every((text) => /^[A-Z]\d+: /.test(text))).toBe(true);
    expect(words({ spots: true }).join()).toMatch(/h1: hack 6.5 off.*high point: bed 5/);
    expect(words({ contours: true }).every((text) => Number(text) > 0)).toBe(true);
  });

  test('the caption says how well it fits, warns of cables, and stands where it hides fewer screws', () => {
    const pen = makePen(letterPx(size));
    const input = { wall, photo: 'f1', fit, layers: usualLayers, isUnsure: false, note: 'version 1' };
    const low: Point[] = [
      [500, 2950],
      [900, 2940],
    ];
    expect(layCaption(input, size, low, pen).area.top).toBe(0);
    expect(layCaption(input, size, [[500, 40]], pen).area.bottom).toBe(size.heightPx);
    const text = listTexts(layCaption(input, size, low, pen).draw([])).join(' ');
    expect(text).toMatch(/photo f1\. Drawn to about ±\d+ mm on the wall\. version 1\./);
    expect(text).toContain(photoCautions);
  });
});

describe('fit', () => {
  const why = (pose: Parameters<typeof photoPlan>[0], leftOut = false) => {
    const made = photoPlan({ ...standing, ...pose });
    const sighting = sightPhoto(made, { ...made.photo, leftOut }, size);
    return sighting.ok ? null : sighting.why.code;
  };

  test('a photo without a drawing says why', () => {
    expect(why({})).toBeNull();
    expect(why({}, true)).toBe('left_out');
    expect(why({ id: 'elsewhere' })).toBe('not_placed');
    expect(why({ markRmsPx: NaN })).toBe('not_placed');
    expect(why({ rotationRad: [0, 2.5, 0] })).toBe('no_wall');
    expect(why({ markRmsPx: 40 })).toBe('fits_badly');
  });

  test('marks, offset and surface each count: two sigma, by hand for one seen squarely', () => {
    expect(fit.share).toBeGreaterThan(0.9);
    const far = {
      ...standing,
      position: { along: 1800, up: 1225, out: 1e6 },
      rotationRad: [0, 0, 0] as const,
    };
    const far1 = sightOf(photoPlan({ ...far, focalPx: 1e6, markRmsPx: 3, offsetSigmaMm: 1 }, 0));
    // from so far away offsets move nothing: 3 px at 1 px/mm, twice
    expect(far1.fit.fitMm).toBeCloseTo(6, 1);
    expect(sightOf(photoPlan({ ...standing, offsetSigmaMm: 5 })).fit.fitMm).toBeGreaterThan(1.5 * fit.fitMm);
  });

  test('the photo that shows more of the wall comes first, the better fitting among equals', () => {
    const made = (share: number, fitMm: number) => ({ fit: { ...fit, share, fitMm } });
    const [a, b, c] = [made(0.6, 1), made(0.98, 4), made(0.99, 2)];
    expect(rankFits([a, b, c])).toEqual([c, b, a]);
  });

  test('a wall told from its own mean plane is drawn where it was before', () => {
    const tilt = (along: number, up: number) => -66 + 0.002 * along - 0.001 * up;
    const { survey, solution, plan, photo } = wall;
    const { stepMm, nx, out } = solution.surface;
    const { camera } = sight;
    // points where the sheet meets the wall, seen by the camera of the first photo
    const lines = [300, 1300, 2250].map((atMm): Profile => {
      const s = Float64Array.from({ length: 60 }, (_, k) => 60 + 58 * k);
      const places = Array.from(s, (along) => sight.onWall([along, atMm]));
      const images = places.map((place) => imageFromWall(camera, place));
      return {
        ...{ photo: 'f1', line: 'l1', axis: 'level', atMm, s, sigma: s.map(() => 0.5) },
        out: Float64Array.from(places, (place) => place.out - tilt(place.along, atMm)),
        u: Float64Array.from(images, ({ u }) => u),
        v: Float64Array.from(images, ({ v }) => v),
      };
    });
    const { p, q, r } = plan.bedPlane;
    const levelled = {
      survey: { ...survey, photos: survey.photos.map((each) => ({ ...each, ...size })) },
      solution: {
        ...solution,
        profiles: lines,
        surface: {
          ...solution.surface,
          out: out.map((each, k) => each - tilt((k % nx) * stepMm, Math.floor(k / nx) * stepMm)),
        },
        warnings: [{ code: 'no_readings' as const, subject: 'wall' }],
      },
      plan: { ...plan, bedPlane: { p: p + 66, q: q - 0.002, r: r + 0.001 } },
    };
    const again = sightPhoto(levelled, photo, size);
    if (!again.ok) throw new Error(again.why.code);
    for (const spot of [
      [200, 200],
      [3300, 2200],
      [900, 1500],
    ] as Point[])
      for (const lift of ['onWall', 'onPlane'] as const) {
        const pick = (each: typeof sight) =>
          placeOnPhoto(each, lift === 'onWall' ? each.onWall : each.onPlane(), spot)!;
        const [then, now] = [pick(sight), pick(again.sight)];
        expect(Math.hypot(then[0] - now[0], then[1] - now[1])).toBeLessThan(0.05);
      }
  });
});
