import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Gestures, type GestureTarget, type Hold } from '../../../src/ui/photo/gestures.ts';
import type { Spot } from '../../../src/ui/photo/view.ts';

/** Writes down what it is told, and fails where a gesture ends that has not begun or begins before the last one has ended. */
class Ledger implements GestureTarget {
  readonly told: string[] = [];
  begun = false;

  constructor(private readonly holds: () => Hold) {}

  hold(): Hold {
    return this.holds();
  }
  begin(): void {
    expect(this.begun).toBe(false);
    this.begun = true;
    this.told.push('begin');
  }
  move(): void {
    expect(this.begun).toBe(true);
  }
  end(): void {
    this.finish('end');
  }
  cancel(): void {
    this.finish('cancel');
  }
  tap(): void {
    this.told.push('tap');
  }
  tapTwice(): void {
    this.told.push('twice');
  }
  pan(): void {
    expect(this.begun).toBe(false);
    this.told.push('pan');
  }
  pinch(_from: Spot, _to: Spot, factor: number): void {
    expect(this.begun).toBe(false);
    expect(factor).toBeGreaterThan(0);
    this.told.push('pinch');
  }

  private finish(how: string): void {
    expect(this.begun).toBe(true);
    this.begun = false;
    this.told.push(how);
  }
}

const step = fc.record({
  what: fc.constantFrom('down', 'move', 'move', 'up', 'lose', 'giveUp'),
  id: fc.constantFrom(1, 2, 3),
  at: fc.record({ x: fc.integer({ min: 0, max: 90 }), y: fc.integer({ min: 0, max: 90 }) }),
  moves: fc.boolean(),
});
const holds = fc.constantFrom<Hold>('now', 'drag', null);

test('whatever fingers do: what begins ends once, nothing ends as a change with two fingers down, all up is idle', () => {
  fc.assert(
    fc.property(fc.array(step, { maxLength: 40 }), holds, (steps, hold) => {
      const ledger = new Ledger(() => hold);
      const gestures = new Gestures(ledger);
      const down = new Set<number>();
      let timeMs = 0;
      for (const { what, id, at, moves } of steps) {
        const others = [...down].filter((each) => each !== id).length;
        const ends = ledger.told.filter((each) => each === 'end').length;
        timeMs += 40;
        if (what === 'down') gestures.down(id, at, 'touch', { moves, timeMs });
        else if (what === 'move') gestures.move(id, at);
        else if (what === 'up') gestures.up(id, at);
        else if (what === 'lose') gestures.lose(id);
        else gestures.giveUp();
        if (what === 'down') down.add(id);
        if (what === 'up' || what === 'lose') down.delete(id);
        if (down.size > 1) expect(ledger.begun).toBe(false);
        const ended = ledger.told.filter((each) => each === 'end').length - ends;
        if (what !== 'up' || others > 0) expect(ended).toBe(0);
        if (down.size === 0) expect(ledger.begun).toBe(false);
      }
      for (const id of down) gestures.lose(id);
      expect(ledger.begun).toBe(false);
      // idle: a press begins anew
      ledger.told.length = 0;
      gestures.down(9, { x: 0, y: 0 }, 'touch');
      gestures.move(9, { x: 40, y: 0 });
      gestures.up(9, { x: 40, y: 0 });
      expect(ledger.told).toEqual(hold === null ? ['pan'] : ['begin', 'end']);
    }),
    { seed: 51, numRuns: 400 },
  );
});

test('a press that only moves the picture takes hold of nothing, and its tap means nothing', () => {
  for (const hold of ['now', 'drag', null] as const) {
    const ledger = new Ledger(() => hold);
    const gestures = new Gestures(ledger);
    gestures.down(1, { x: 0, y: 0 }, 'mouse', { moves: true });
    gestures.up(1, { x: 0, y: 0 });
    gestures.down(1, { x: 0, y: 0 }, 'mouse', { moves: true });
    gestures.move(1, { x: 9, y: 0 });
    gestures.up(1, { x: 9, y: 0 });
    expect(ledger.told).toEqual(['pan']);
  }
});

test('two taps at one place make two, three do not make two twice, and a tool that places at once never sees any', () => {
  const tapAt = (gestures: Gestures, x: number, timeMs: number) => {
    gestures.down(1, { x, y: 0 }, 'touch', { timeMs });
    gestures.up(1, { x, y: 0 });
  };
  const times = [0, 200, 400, 1000, 1200];
  const picking = new Ledger(() => null);
  const gestures = new Gestures(picking);
  for (const timeMs of times) tapAt(gestures, 0, timeMs);
  expect(picking.told).toEqual(['tap', 'twice', 'tap', 'tap', 'twice']);
  tapAt(gestures, 0, 2000);
  tapAt(gestures, 60, 2100);
  expect(picking.told.slice(5)).toEqual(['tap', 'tap']);
  const placing = new Ledger(() => 'now');
  const placed = new Gestures(placing);
  for (const timeMs of times) tapAt(placed, 0, timeMs);
  expect(placing.told).toEqual(times.flatMap(() => ['begin', 'end']));
});
