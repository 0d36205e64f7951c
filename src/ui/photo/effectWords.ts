import type { Effect } from './effect.ts';

/** A change of the wall in mm, fine enough to see: without sign. @example changeText(-0.126) // '0.13 mm' */
export function changeText(mm: number): string {
  const size = Math.abs(mm);
  return `${size < 1 ? Number(size.toFixed(2)) : size.toFixed(1)} mm`;
}

/** Which way the wall goes by a change of its offset. @example changeWords(1.25) // '1.3 mm further out' */
export function changeWords(mm: number): string {
  return Number(mm.toFixed(2)) === 0 ? 'unchanged' : `${changeText(mm)} further ${mm > 0 ? 'out' : 'back'}`;
}

/** An offset before and after, as both stand to the laser's plane. @example turnWords(-0.84, -1.31) // '0.84 mm → 1.3 mm behind the plane' */
export function turnWords(fromMm: number, toMm: number): string {
  const side = (mm: number) => (mm > 0 ? 'in front of' : 'behind');
  const from = side(fromMm) === side(toMm) ? changeText(fromMm) : `${changeText(fromMm)} ${side(fromMm)}`;
  return `${from} → ${changeText(toMm)} ${side(toMm)} the plane`;
}

const lengthWords = (mm: number): string => `${mm < 10 ? Number(mm.toFixed(1)) : Math.round(mm)} mm`;
const pointWords = (count: number): string => (count === 1 ? '1 point' : `${count} points`);

/** What a push of the line does, by the change of its points' offsets (mm) and the length of wall they span. */
export function pushWords(changesMm: readonly number[], lengthMm: number): string {
  if (changesMm.length === 0) return 'Push: nothing moves yet.';
  const mean = changesMm.reduce((sum, mm) => sum + mm, 0) / changesMm.length;
  const largest = changesMm.reduce((most, mm) => (Math.abs(mm) > Math.abs(most) ? mm : most), 0);
  return `Push: ${changeWords(mean)} on the mean, ${changeText(largest)} at most, over ${lengthWords(lengthMm)}.`;
}

/** What a change did to the wall, in a sentence: `shiftMm` of `s` lays the offsets of this photo on the surface. */
export function effectWords(effect: Effect, shiftMm: (s: number) => number): string {
  const { before, after, moved, single, lengthMm, meanMm, largestMm, lostMm, gainedMm } = effect;
  const over = lengthMm >= 1 ? ` over ${lengthWords(lengthMm)}` : '';
  const turned =
    Math.abs(largestMm) >= 0.005
      ? `the profile there moves ${changeText(largestMm)} at most`
      : 'the profile there stays';
  if (after < before) {
    const bare = lostMm >= 1 ? `; ${lengthWords(lostMm)} show no profile now` : '';
    return `${pointWords(before - after)}${over} no longer ${before - after === 1 ? 'counts' : 'count'}${bare}; ${turned}.`;
  }
  if (after > before) {
    const shown = gainedMm >= 1 ? `; ${lengthWords(gainedMm)} show a profile again` : '';
    return `${pointWords(after - before)} more${over} ${after - before === 1 ? 'counts' : 'count'} now${shown}; ${turned}.`;
  }
  if (single) {
    const shift = shiftMm(single.s);
    return `This point: ${turnWords(single.from + shift, single.to + shift)}.`;
  }
  if (moved > 0)
    return `${lengthWords(lengthMm)} of the line moved: ${changeWords(meanMm)} on the mean, ${changeText(largestMm)} at most.`;
  return `The weight of points${over} changed; ${turned}.`;
}
