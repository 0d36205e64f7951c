import fc from 'fast-check';
import { expect, test } from 'vitest';
import { recordStep, redoStep, startHistory, undoStep } from '../../src/app/history.ts';

test('a random walk of edits, undos and redos agrees with a plain list and a cursor', () => {
  const move = fc.oneof(
    { weight: 3, arbitrary: fc.record({ kind: fc.constant('edit' as const), value: fc.integer() }) },
    { weight: 2, arbitrary: fc.constant({ kind: 'undo' as const }) },
    { weight: 1, arbitrary: fc.constant({ kind: 'redo' as const }) },
  );
  fc.assert(
    fc.property(fc.array(move, { maxLength: 80 }), (moves) => {
      let history = startHistory<{ value: number }>({ value: 0 });
      let list = [history.present];
      let cursor = 0;
      for (const each of moves) {
        if (each.kind === 'edit') {
          const next = { value: each.value };
          history = recordStep(history, next);
          list = [...list.slice(0, cursor + 1), next];
          cursor++;
        } else if (each.kind === 'undo') {
          history = undoStep(history);
          cursor = Math.max(0, cursor - 1);
        } else {
          history = redoStep(history);
          cursor = Math.min(list.length - 1, cursor + 1);
        }
        expect(history.present).toBe(list[cursor]);
        expect(history.past.length).toBe(cursor);
        expect(history.future.length).toBe(list.length - 1 - cursor);
      }
    }),
    { seed: 7, numRuns: 200 },
  );
});

test('changes of one gesture are one step, and another change ends the gesture', () => {
  let history = startHistory('a');
  history = recordStep(history, 'b', 'find 1');
  history = recordStep(history, 'c', 'find 1');
  expect(history.past).toEqual(['a']);
  history = recordStep(history, 'd');
  history = recordStep(history, 'e', 'find 1');
  expect(history.past).toEqual(['a', 'c', 'd']);
  expect(undoStep(history).present).toBe('d');
});

test('the same value makes no step', () => {
  const history = startHistory('a');
  expect(recordStep(history, 'a')).toBe(history);
});

test('no more than 200 steps are kept', () => {
  let history = startHistory(0);
  for (let i = 1; i <= 300; i++) history = recordStep(history, i);
  expect(history.past.length).toBe(200);
  expect(history.past[0]).toBe(100);
});
