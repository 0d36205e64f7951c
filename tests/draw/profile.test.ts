import { describe, expect, test } from 'vitest';
import { drawProfile } from '../../src/draw/profile.ts';
import { evenProfile, listRuns } from '../../src/draw/profileLine.ts';
import { listTexts, toSvg } from '../../src/draw/tree.ts';
import { listElements } from './boxes.ts';
import { roughPlan } from './walls.ts';

const { survey, solution } = roughPlan();
const throughWindow = solution.profiles[3]!;

describe('even steps', () => {
  test('are means of what lies in them, and NaN where nothing does', () => {
    const even = evenProfile({ s: [2, 4, 31, 33, 52], out: [1, 3, 5, 7, 9], sigma: [1, 3, 2, 2, 4] }, 10);
    expect([...even.s]).toEqual([5, 15, 25, 35, 45, 55]);
    expect([...even.out]).toEqual([2, NaN, NaN, 6, NaN, 9]);
    expect([...even.sigma]).toEqual([2, NaN, NaN, 2, NaN, 4]);
    expect(listRuns(even.out)).toEqual([[0, 0], [3, 3], [5, 5]]); // prettier-ignore
  });

  test('no points, no steps; the order of points does not matter', () => {
    expect(evenProfile({ s: [], out: [], sigma: [] }, 10).s).toHaveLength(0);
    const [s, out, sigma] = [[33, 2, 4], [5, 1, 3], [1, 1, 1]] as const; // prettier-ignore
    expect([...evenProfile({ s, out, sigma }, 10).out]).toEqual([2, NaN, NaN, 5]);
  });
});

describe('the chart', () => {
  test('a gap stays open and is said', () => {
    const drawing = drawProfile({ survey, solution, profile: throughWindow });
    expect(listTexts(drawing)).toContain('not seen');
    const trace = listElements(drawing, 'path').at(-1)!;
    expect(String(trace.attrs.d).match(/M/g)).toHaveLength(2);
  });

  test('figures count from the laser plane, nearer above', () => {
    const drawing = drawProfile({ survey, solution, profile: throughWindow });
    const ticks = listElements(drawing, 'text')
      .filter(({ attrs }) => attrs['text-anchor'] === 'end' && Number(attrs.x) < 60)
      .map(({ attrs, children }) => ({ y: Number(attrs.y), mm: Number(children[0]) }));
    expect(ticks.length).toBeGreaterThan(3);
    for (const [k, tick] of ticks.entries()) {
      expect(tick.mm).toBeGreaterThan(40);
      if (k > 0) expect(Math.sign(tick.y - ticks[k - 1]!.y)).toBe(Math.sign(tick.mm - ticks[k - 1]!.mm));
    }
  });

  test('a flat profile is drawn flat: the chart is at least 10 mm high', () => {
    const flat = {
      ...throughWindow,
      out: throughWindow.out.map((_, k) => -60 + 0.01 * (k % 2)),
      sigma: throughWindow.sigma.map(() => 0.1),
    };
    const texts = listTexts(drawProfile({ survey, profile: flat }))
      .map(Number)
      .filter(Number.isFinite);
    const mm = texts.filter((each) => each > 30 && each < 90);
    expect(Math.max(...mm) - Math.min(...mm)).toBeGreaterThanOrEqual(8);
  });

  test('an empty profile is an empty chart', () => {
    const none = new Float64Array(0);
    const empty = { ...throughWindow, s: none, out: none, sigma: none, u: none, v: none };
    expect(toSvg(drawProfile({ survey, profile: empty }))).not.toMatch(/NaN/);
  });
});
