import { fitProjective, valueAt } from './projective.ts';
import type { TrackedBlock } from './track.ts';

/** Where a block lies on the tape: cycles counted from an arbitrary one. */
export interface CountedBlock {
  readonly block: TrackedBlock;
  readonly cycles: number;
}

/** A phase that misses the one foretold by more than this (cycles) does not go on from the block before. */
const MOST_MISS = 0.2;
/** Blocks that go on from each other before they are believed. */
const LEAST_RUN = 3;
/** Uncertainty (cycles) up to which a stretch beyond a gap is counted on. */
const MOST_GAP_DOUBT = 0.25;
/** How far the phase beyond may then lie from the one foretold: what covers the tape bends the phases of the blocks beside it. */
const MOST_GAP_MISS = 0.35;

/**
 * Graduations counted from block to block where each phase goes on from the one before, and over gaps (a hand, glare) where
 * the scale on one side foretells the count on the other; stretches that cannot be counted on are left out. Blocks whose wave
 * takes less than `leastShare` of the light count as a gap. In order; empty where nothing goes on.
 */
export function countCycles(track: readonly TrackedBlock[], leastShare: number): CountedBlock[] {
  const runs = listRuns(track, leastShare);
  if (runs.length === 0) return [];
  const longest = runs.reduce((best, run) => (run.length > best.length ? run : best));
  const start = runs.indexOf(longest);
  let counted = longest;
  for (let i = start + 1; i < runs.length; i++) counted = joinRun(counted, runs[i]!) ?? counted;
  for (let i = start - 1; i >= 0; i--) {
    const joined = joinRun(counted, runs[i]!);
    if (joined) counted = joined;
  }
  return counted;
}

function listRuns(track: readonly TrackedBlock[], leastShare: number): CountedBlock[][] {
  const runs: CountedBlock[][] = [];
  let run: CountedBlock[] = [];
  const close = () => {
    if (run.length >= LEAST_RUN) runs.push(run);
    run = [];
  };
  for (const block of track) {
    if (block.share < leastShare) {
      close();
      continue;
    }
    const last = run.at(-1);
    if (last) {
      const step = (block.place - last.block.place) * 0.5 * (1 / last.block.period + 1 / block.period);
      const cycles = nearestTo(last.cycles + step, block.phase);
      if (Math.abs(cycles - last.cycles - step) <= MOST_MISS) {
        run.push({ block, cycles });
        continue;
      }
      close();
    }
    run.push({ block, cycles: block.phase });
  }
  close();
  return runs;
}

/** The number of that fraction nearest to `foretold`. @example nearestTo(7.4, 0.2) // 7.2 */
export function nearestTo(foretold: number, fraction: number): number {
  return fraction + Math.round(foretold - fraction);
}

/** Both stretches counted as one, in order; null where the gap between them is too wide to count over. */
function joinRun(counted: readonly CountedBlock[], run: readonly CountedBlock[]): CountedBlock[] | null {
  const after = run[0]!.block.place > counted[0]!.block.place;
  const [one, other] = after ? [counted.at(-1)!, run[0]!] : [counted[0]!, run.at(-1)!];
  const gap = other.block.place - one.block.place;
  const scaleFrom = (blocks: readonly CountedBlock[]) => {
    // the nearest blocks foretell best
    const near = [...blocks]
      .sort((a, b) => Math.abs(a.block.place - one.block.place) - Math.abs(b.block.place - one.block.place))
      .slice(0, 24);
    return fitProjective(
      near.map(({ block }) => block.place),
      near.map(({ cycles }) => cycles),
    );
  };
  const forward = valueAt(scaleFrom(counted), other.block.place) - one.cycles;
  const backward = other.cycles - valueAt(scaleFrom(run), one.block.place);
  const doubt = Math.abs(forward - backward) / 2;
  const foretold = one.cycles + (forward + backward) / 2;
  const shift = Math.round(foretold - other.cycles);
  const miss = Math.abs(foretold - other.cycles - shift);
  const perGap = Math.abs(gap) / one.block.period;
  if (doubt > MOST_GAP_DOUBT || miss > MOST_GAP_MISS || perGap > 0.5 * (counted.length + run.length) * 4)
    return null;
  const moved = run.map(({ block, cycles }) => ({ block, cycles: cycles + shift }));
  return after ? [...counted, ...moved] : [...moved, ...counted];
}
