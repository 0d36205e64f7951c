/** Undo by keeping whole immutable values: every step is a value, `present` the one on screen. */
export interface History<T> {
  readonly past: readonly T[];
  readonly present: T;
  readonly future: readonly T[];
  /** Name of the gesture that made `present`; the next change of the same gesture joins that step. */
  readonly gesture: string | null;
}

/** Steps kept; the values share all that did not change, so a step costs little. */
const MAX_STEPS = 200;

/** A history with one value and nothing to undo. */
export function startHistory<T>(present: T): History<T> {
  return { past: [], present, future: [], gesture: null };
}

/**
 * The history after a change. A change that names the same `gesture` as the step before joins it, so that a job which
 * reports photo by photo is one step; an unchanged value makes no step.
 */
export function recordStep<T>(history: History<T>, next: T, gesture: string | null = null): History<T> {
  if (next === history.present) return history;
  const joins = gesture !== null && gesture === history.gesture;
  const past = joins ? history.past : [...history.past, history.present].slice(-MAX_STEPS);
  return { past, present: next, future: [], gesture };
}

/** One step back; the same history when there is none. */
export function undoStep<T>(history: History<T>): History<T> {
  const before = history.past.at(-1);
  if (before === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: before,
    future: [history.present, ...history.future],
    gesture: null,
  };
}

/** One step forward again; the same history when nothing was undone. */
export function redoStep<T>(history: History<T>): History<T> {
  const [after, ...future] = history.future;
  if (after === undefined) return history;
  return { past: [...history.past, history.present], present: after, future, gesture: null };
}

/** Every step with something put into it that is no step of its own: what a job in the background found stays when a step is undone. */
export function amendSteps<T>(history: History<T>, amend: (step: T) => T): History<T> {
  const { past, present, future, gesture } = history;
  return { past: past.map(amend), present: amend(present), future: future.map(amend), gesture };
}
