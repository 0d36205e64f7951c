import { describe, expect, test } from 'vitest';
import { corridorSpan, isMasked, restrictMap } from '../../../src/core/line/restriction.ts';

const full = (width: number, height: number) => ({
  width,
  height,
  values: new Float32Array(width * height).fill(1),
});
const picture = ({ width, values }: { width: number; values: Float32Array }) =>
  Array.from({ length: values.length / width }, (_, y) =>
    Array.from(values.subarray(y * width, (y + 1) * width), (value) => (value ? '#' : '.')).join(''),
  );

describe('restrictMap', () => {
  test('without corridor and masks nothing changes', () => {
    const map = full(4, 3);
    expect(restrictMap(map, 'level', 8, {})).toBe(1);
    expect(map.values.every((value) => value === 1)).toBe(true);
  });

  test('keeps what is in the corridor of a level line', () => {
    const map = full(6, 8);
    // blocks of 10 px: middles at 4.5, 14.5, ...
    const corridor = {
      path: [
        { u: 0, v: 20 },
        { u: 60, v: 50 },
      ],
      halfWidthPx: 11,
    };
    expect(restrictMap(map, 'level', 10, { corridor })).toBe(1);
    expect(picture(map)).toEqual([
      '......',
      '#.....',
      '###...',
      '.####.',
      '...###',
      '.....#',
      '......',
      '......',
    ]);
  });

  test('a plumb line reads its corridor by rows, whichever way it runs', () => {
    const down = {
      path: [
        { u: 25, v: 0 },
        { u: 25, v: 60 },
      ],
      halfWidthPx: 6,
    };
    const up = { path: [...down.path].reverse(), halfWidthPx: 6 };
    const [one, other] = [full(6, 5), full(6, 5)];
    restrictMap(one, 'plumb', 10, { corridor: down });
    restrictMap(other, 'plumb', 10, { corridor: up });
    expect(picture(one)).toEqual(['......', '......', '######', '......', '......']);
    expect(other.values).toEqual(one.values);
  });

  test('beyond the ends of the wall no line is expected', () => {
    const map = full(10, 3);
    const corridor = {
      path: [
        { u: 30, v: 15 },
        { u: 60, v: 15 },
      ],
      halfWidthPx: 12,
    };
    expect(restrictMap(map, 'level', 10, { corridor })).toBeCloseTo(0.5, 6);
    expect(picture(map)[1]).toBe('..#####...');
  });

  test('a corridor outside the picture or without length leaves nothing', () => {
    for (const path of [
      [],
      [{ u: 3, v: 3 }],
      [
        { u: 0, v: 900 },
        { u: 90, v: 900 },
      ],
    ]) {
      const map = full(5, 5);
      expect(restrictMap(map, 'level', 10, { corridor: { path, halfWidthPx: 20 } })).toBe(0);
      expect(map.values.every((value) => value === 0)).toBe(true);
    }
  });

  test('masks are cut out with one block round them', () => {
    const mask = { u: 20, v: 20, width: 9, height: 9 };
    const map = full(6, 6);
    restrictMap(map, 'level', 10, { masks: [mask] });
    expect(picture(map)).toEqual(['######', '#...##', '#...##', '#...##', '######', '######']);
    const turned = full(6, 6);
    restrictMap(turned, 'plumb', 10, { masks: [{ ...mask, u: 40 }] });
    expect(picture(turned)).toEqual(['######', '######', '######', '#...##', '#...##', '#...##']);
  });
});

test('isMasked takes in the edge and the margin', () => {
  const masks = [{ u: 10, v: 10, width: 5, height: 5 }];
  expect(isMasked(masks, { u: 15, v: 12 })).toBe(true);
  expect(isMasked(masks, { u: 15.5, v: 12 })).toBe(false);
  expect(isMasked(masks, { u: 15.5, v: 12 }, 1)).toBe(true);
  expect(isMasked([], { u: 15.5, v: 12 }, 1)).toBe(false);
});

test('corridorSpan of a single bend', () => {
  const corridor = {
    path: [
      { u: 0, v: 0 },
      { u: 10, v: 0 },
      { u: 20, v: 10 },
    ],
    halfWidthPx: 2,
  };
  expect(corridorSpan(corridor, 'level', 15)).toEqual({ from: 3, to: 7 });
  expect(corridorSpan(corridor, 'level', 21)).toEqual({ from: 9, to: 13 });
  expect(corridorSpan(corridor, 'level', 23).from).toBe(Infinity);
});
