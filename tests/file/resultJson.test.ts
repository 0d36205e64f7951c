import { describe, expect, test } from 'vitest';
import { writeLines, writeResult } from '../../src/file/resultJson.ts';
import { makeAdvice, nextLevel } from '../draw/advice.ts';
import { roughPlan } from '../draw/walls.ts';

const { survey, solution, plan } = roughPlan();
const next = makeAdvice(nextLevel);
const times = { decode: 12.3456, find: 1, solve: 2, plan: 3 };
interface Result {
  profiles: Record<string, unknown>[];
  surface: { step: number; nx: number; ny: number; out: (number | null)[]; sigma: (number | null)[] };
  photos: Record<string, unknown>[];
  [key: string]: unknown;
}
const write = (given = solution) => JSON.parse(writeResult(survey, given, plan, next, times)) as Result;

describe('result.json (contract B)', () => {
  const result = write();

  test('has every key of the contract', () => {
    const keys = [
      'profiles',
      'surface',
      'phones',
      'photos',
      'bedPlane',
      'boards',
      'screws',
      'adhesive',
      'warnings',
      'timesMs',
    ];
    expect(Object.keys(result)).toEqual(expect.arrayContaining(keys));
    expect(Object.keys(result.profiles[0]!)).toEqual(
      expect.arrayContaining(['photo', 'line', 's', 'out', 'sigma', 'u', 'v']),
    );
    expect(Object.keys(result.surface)).toEqual(['step', 'nx', 'ny', 'out', 'sigma']);
    expect(Object.keys(result.photos[0]!)).toEqual(
      expect.arrayContaining(['id', 'position', 'focalPx', 'offsetSigmaMm']),
    );
    expect(result.phones).toEqual([{ id: 'p1', k1: -0.012, sigma: 0.0008 }]);
    expect(result.timesMs).toEqual({ decode: 12.3, find: 1, solve: 2, plan: 3 });
  });

  test('the surface is row by row from the floor, a missing value is null', () => {
    const { nx, ny, step, out, sigma } = result.surface;
    expect([step, nx, ny]).toEqual([25, 145, 99]);
    expect(out).toHaveLength(nx * ny);
    const windowMiddle = Math.round(1500 / step) * nx + Math.round(1850 / step);
    expect(out[windowMiddle]).toBeNull();
    expect(sigma[windowMiddle]).toBeNull();
    out.forEach((each, k) => {
      const exact = solution.surface.out[k]!;
      if (each === null) expect(exact).toBeNaN();
      else expect(Math.abs(each - exact)).toBeLessThanOrEqual(0.5001e-4);
    });
  });

  test('says how far each box stands out of the wall', () => {
    const box = { id: 'b1', proudMm: 7.912345, sigmaMm: 0.31, count: 40 };
    expect(write({ ...solution, boxes: [box] }).boxes).toEqual([{ ...box, proudMm: 7.9123 }]);
    expect(result.boxes).toEqual([]);
  });

  test('says what to measure next, and nothing where nothing is worth it', () => {
    expect(result.doubtfulM2).toBe(0.8);
    expect(result.next).toMatchObject({
      enough: false,
      best: { kind: 'level', up: 1550, doubtfulM2After: 0.4 },
    });
    const enough = JSON.parse(writeResult(survey, solution, plan, makeAdvice(null), times)) as Result;
    expect(enough.next).toMatchObject({ enough: true, best: null });
  });

  test('slopes keep the digits that a long wall needs', () => {
    const { p, q, r } = result.bedPlane as Record<'p' | 'q' | 'r', number>;
    for (const along of [0, 3600])
      expect(
        Math.abs(
          p + q * along + r * 2450 - (plan.bedPlane.p + plan.bedPlane.q * along + plan.bedPlane.r * 2450),
        ),
      ).toBeLessThan(1e-3);
  });

  test('warnings of the solve and of the plan come as code and subject', () => {
    const warned = write({ ...solution, warnings: [{ code: 'no_line', subject: 'f3' }] });
    expect(warned.warnings).toContainEqual({ code: 'no_line', subject: 'f3' });
    expect((warned.warnings as unknown[]).length).toBe(1 + plan.warnings.length);
  });

  test('a photograph without a line is an empty profile', () => {
    const none = new Float64Array(0);
    const empty = { ...solution.profiles[0]!, s: none, out: none, sigma: none, u: none, v: none };
    expect(write({ ...solution, profiles: [empty] }).profiles[0]).toMatchObject({
      photo: 'f1',
      s: [],
      out: [],
      u: [],
    });
  });

  test('no infinity gets in', () => {
    const photos = solution.photos.map((photo) => ({ ...photo, offsetSigmaMm: Infinity }));
    expect(write({ ...solution, photos }).photos[0]).toMatchObject({ offsetSigmaMm: null });
  });

  test('the same results give the same text', () => {
    expect(writeResult(survey, solution, plan, next, times)).toBe(
      writeResult(survey, solution, plan, next, times),
    );
  });
});

describe('lines.json (contract B)', () => {
  const line = {
    axis: 'level',
    colour: 'green',
    confidence: 0.912345,
    widthPx: 4,
    points: [{ u: 3, v: 1234.56789, sigma: 0.0812345, state: 'found' }],
    gaps: [],
  } as const;

  test('size of the picture, and the lines with their points', () => {
    expect(JSON.parse(writeLines(4000, 3000, [line]))).toEqual({
      width: 4000,
      height: 3000,
      lines: [
        {
          axis: 'level',
          colour: 'green',
          confidence: 0.9123,
          points: [{ u: 3, v: 1234.568, sigma: 0.0812, state: 'found' }],
        },
      ],
    });
  });

  test('no line is an empty list', () => {
    expect(writeLines(40, 30, [])).toBe('{\n  "width": 40,\n  "height": 30,\n  "lines": []\n}\n');
  });
});
