import { describe, expect, test } from 'vitest';
import { boardM2, outlineM2 } from '../../../../src/core/lining/boards/lifting.ts';
import { fitBetween } from '../../../../src/core/lining/boards/outline.ts';
import { cutLine, heightAt, makeLine } from '../../../../src/core/lining/boards/wallLine.ts';

const level = (up: number) => [{ along: 0, up }];
const rect = { along: 0, up: 0, width: 1000, height: 2000 };
const at = (along: number, up: number) => ({ along, up });

describe('a line across the wall', () => {
  test('is straight between its spots and level beyond', () => {
    const line = makeLine([at(2000, 40), at(1000, 0)], 7);
    expect([0, 1000, 1500, 2000, 9000].map((along) => heightAt(line, along))).toEqual([0, 0, 20, 40, 40]);
    expect(cutLine(line, 500, 1500)).toEqual([at(500, 0), at(1000, 0), at(1500, 20)]);
  });
  test('without spots is level', () => expect(heightAt(makeLine(undefined, 7), 3)).toBe(7));
  test('with two spots at one place has a step there', () => {
    const line = makeLine([at(100, 5), at(100, 9)], 0);
    expect([0, 99, 101, 500].map((along) => heightAt(line, along))).toEqual([5, 5, 9, 9]);
  });
});

describe('a board between floor and ceiling', () => {
  test('is a rectangle where both are level', () => {
    expect(fitBetween(rect, { floor: level(12), ceiling: level(1900) })).toEqual({
      rect: { along: 0, up: 12, width: 1000, height: 1888 },
      outline: null,
    });
  });
  test('follows a sloping floor: corners from the lower left, counter-clockwise', () => {
    const fitted = fitBetween(rect, { floor: [at(0, 0), at(1000, 20)], ceiling: level(2000) })!;
    expect(fitted.rect).toEqual(rect);
    expect(fitted.outline).toEqual([at(0, 0), at(1000, 20), at(1000, 2000), at(0, 2000)]);
    expect(outlineM2(fitted.outline!)).toBeCloseTo(1.99, 12);
  });
  test('has a corner where the ceiling breaks', () => {
    const ceiling = [at(0, 1900), at(400, 1980), at(1000, 1950)];
    const fitted = fitBetween(rect, { floor: level(0), ceiling })!;
    expect(fitted.rect.height).toBe(1980);
    expect(fitted.outline).toEqual([at(0, 0), at(1000, 0), at(1000, 1950), at(400, 1980), at(0, 1900)]);
  });
  test('over an opening stays level at the opening', () => {
    const over = { along: 0, up: 1500, width: 1000, height: 500 };
    const fitted = fitBetween(over, { floor: [at(0, 0), at(1000, 50)], ceiling: level(2000) })!;
    expect(fitted).toEqual({ rect: over, outline: null });
  });
  test('is gone where the floor is over it', () => {
    expect(fitBetween(rect, { floor: level(2100), ceiling: level(2400) })).toBeNull();
  });
  test('weighs without its cut-outs and its sloping ends', () => {
    const outline = [at(0, 0), at(1000, 20), at(1000, 2000), at(0, 2000)];
    const cutouts = [
      { along: 100, up: 900, width: 200, height: 100 },
      { along: 200, up: 950, width: 200, height: 100 },
    ];
    expect(boardM2({ ...rect, outline, cutouts })).toBeCloseTo(1.99 - 0.035, 12);
  });
});
