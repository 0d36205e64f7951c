import fc from 'fast-check';
import type { Surface } from '../../../src/core/results.ts';
import type { Lining, Survey, Wall, WallRect, WallSpot } from '../../../src/core/survey.ts';

/** A wall to plan, without photographs. */
export interface WallCase {
  readonly survey: Survey;
  readonly surface: Surface;
}

export interface WallOptions {
  readonly width?: number;
  readonly height?: number;
  readonly stepMm?: number;
  readonly side?: Wall['side'];
  readonly openings?: readonly WallRect[];
  readonly boxes?: readonly WallRect[];
  readonly board?: Lining['board'];
  readonly bed?: Lining['bed'];
  readonly sigmaMm?: number;
  readonly out?: (along: number, up: number) => number;
  readonly floor?: readonly WallSpot[] | undefined;
  readonly ceiling?: readonly WallSpot[] | undefined;
  /** How deep the reveals of all openings are. */
  readonly reveal?: number;
  /** Whatever else the survey says of the lining. */
  readonly lining?: Partial<Lining>;
}

/** Survey and surface of a wall given as a function; nodes inside openings are NaN, the last may stand beyond the wall. */
export function makeCase(options: WallOptions = {}): WallCase {
  const { width = 3600, height = 2450, stepMm = 50, sigmaMm = 0.8, out = () => -60 } = options;
  const openings = (options.openings ?? []).map((rect, i) => ({
    ...rect,
    id: `o${i + 1}`,
    kind: 'window',
    ...(options.reveal === undefined ? {} : { reveal: options.reveal }),
  }));
  const slopes = {
    ...(options.floor ? { floor: options.floor } : {}),
    ...(options.ceiling ? { ceiling: options.ceiling } : {}),
  };
  const boxes = (options.boxes ?? []).map((rect, i) => ({
    ...rect,
    id: `b${i + 1}`,
    kind: 'socket',
    proud: 0,
  }));
  const survey: Survey = {
    format: 'bedplane-survey',
    version: 1,
    title: 'a wall',
    units: 'mm',
    wall: { width, height, side: options.side ?? 'internal', openings, boxes, ...slopes },
    phones: [],
    readings: [],
    photos: [],
    lining: {
      board: options.board ?? { width: 1200, length: 2600, thickness: 12.5 },
      bed: options.bed ?? { min: 5, max: 20, packedMax: 40 },
      ...options.lining,
    },
  };
  const nx = Math.ceil(width / stepMm) + 1;
  const ny = Math.ceil(height / stepMm) + 1;
  const outMm = new Float64Array(nx * ny);
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const [x, y] = [i * stepMm, j * stepMm];
      const isOff = openings.some(
        (o) => x > o.along && x < o.along + o.width && y > o.up && y < o.up + o.height,
      );
      outMm[j * nx + i] = isOff ? NaN : out(x, y);
    }
  }
  const sigma = outMm.map((value) => (Number.isNaN(value) ? NaN : sigmaMm));
  return { survey, surface: { stepMm, nx, ny, out: outMm, sigma } };
}

/** The standard sample: 3.6 x 2.45 m, a window, a socket, an uneven wall. */
export const windowWall: WallOptions = {
  openings: [{ along: 1500, up: 900, width: 700, height: 1200 }],
  boxes: [{ along: 400, up: 300, width: 80, height: 80 }],
  out: (along, up) => -60 + 8 * Math.sin(along / 600) * Math.cos(up / 800) + 0.002 * along,
};

const rectWithin = (width: number, height: number, least: number, most: number) =>
  fc
    .record({
      width: fc.integer({ min: least, max: most }),
      height: fc.integer({ min: least, max: most }),
      alongShare: fc.double({ min: -0.1, max: 1, noNaN: true }),
      upShare: fc.double({ min: -0.1, max: 1, noNaN: true }),
    })
    .map((rect) => ({
      along: Math.round(rect.alongShare * width),
      up: Math.round(rect.upShare * height),
      width: rect.width,
      height: rect.height,
    }));

/** Random walls: any size, up to three openings (also at the floor, at the ends, overlapping), up to four boxes. */
export const anyWall: fc.Arbitrary<WallOptions> = fc
  .record({
    width: fc.integer({ min: 400, max: 6500 }),
    height: fc.integer({ min: 1800, max: 3400 }),
  })
  .chain(({ width, height }) =>
    fc.record({
      width: fc.constant(width),
      height: fc.constant(height),
      stepMm: fc.constantFrom(50, 75, 100),
      openings: fc.array(rectWithin(width, height, 200, 2300), { maxLength: 3 }),
      boxes: fc.array(rectWithin(width, height, 60, 200), { maxLength: 4 }),
      board: fc.constantFrom(
        { width: 1200, length: 2400, thickness: 12.5 },
        { width: 900, length: 1800, thickness: 9.5 },
        { width: 1219.2, length: 2438.4, thickness: 12.7 },
        { width: 600, length: 2600, thickness: 12.5 },
      ),
      out: fc
        .record({
          depth: fc.double({ min: 0, max: 25, noNaN: true }),
          turn: fc.double({ min: -0.01, max: 0.01, noNaN: true }),
          lean: fc.double({ min: -0.01, max: 0.01, noNaN: true }),
          phase: fc.double({ min: 0, max: 6, noNaN: true }),
        })
        .map(
          ({ depth, turn, lean, phase }) =>
            (along: number, up: number) =>
              -60 + depth * Math.sin(along / 500 + phase) * Math.cos(up / 700) + turn * along + lean * up,
        ),
    }),
  );
