import { medianOf } from '../line/running.ts';
import { placeOnSheet, type NetworkState } from './linearize.ts';
import type { Network, SeenLine } from './network.ts';
import { liesAtEdge, type Setback } from './setback.ts';

/** Reach of the two sides compared (mm), and the fewest stretches of a side. */
const SIDE_MM = 100;
const LEAST_IN_SIDE = 3;
/** A line jumps where its sides differ by so much (mm) and so many times their own scatter, most of it from one stretch to the next. */
const LEAST_JUMP_MM = 4;
const JUMP_SCATTERS = 5;
const SUDDEN_SHARE = 0.7;
const NEXT_MM = 60;
/** Jumps of several lines are one edge when they lie within so much of each other (mm). */
const ALIKE_MM = 30;
/** An edge is believed when so many lines jump there, and so large a share of the lines that pass. */
const LEAST_LINES = 2;
const LEAST_SHARE = 0.6;
/** An edge is put between whole millimetres, so that no node of a grid lies on it. */
const BETWEEN_MM = 0.5;

interface Track {
  readonly seen: SeenLine;
  readonly s: readonly number[];
  readonly out: readonly number[];
}

interface Jump {
  readonly track: Track;
  readonly s: number;
  readonly outMm: number;
}

/** The edges over which several lines of a network step alike, at a state; `wall` in mm. */
export function findSetbacks(
  network: Network,
  state: NetworkState,
  wall: { readonly width: number; readonly height: number },
): Setback[] {
  const tracks = network.lines.map((seen, line): Track => {
    const camera = state.cameras[seen.station]!;
    const places = seen.stretches
      .map((stretch) => placeOnSheet(camera, seen, state.sheets[line]!, stretch).place)
      .filter(({ out }) => !Number.isNaN(out))
      .map(({ along, up, out }) => ({ s: seen.sheet.axis === 'level' ? along : up, out }))
      .sort((a, b) => a.s - b.s);
    return { seen, s: places.map(({ s }) => s), out: places.map(({ out }) => out) };
  });
  return (['level', 'plumb'] as const).flatMap((axis) => {
    const across = tracks.filter(({ seen }) => seen.sheet.axis === axis);
    const length = axis === 'level' ? wall.height : wall.width;
    return gatherEdges(across, across.flatMap(listJumps), length).map((edge) => ({
      axis: axis === 'level' ? ('plumb' as const) : ('level' as const),
      ...edge,
    }));
  });
}

/** Places where one line jumps; of several within a side's reach the largest. */
function listJumps(track: Track): Jump[] {
  const { s, out } = track;
  const jumps: Jump[] = [];
  for (let k = 0; k + 1 < s.length; k++) {
    if (s[k + 1]! - s[k]! > NEXT_MM) continue;
    const sudden = out[k + 1]! - out[k]!;
    if (Math.abs(sudden) < SUDDEN_SHARE * LEAST_JUMP_MM) continue;
    const left = fitSide(track, k, -1);
    const right = fitSide(track, k + 1, 1);
    if (!left || !right) continue;
    const middle = (s[k]! + s[k + 1]!) / 2;
    const outMm = right.at(middle) - left.at(middle);
    const least = Math.max(LEAST_JUMP_MM, JUMP_SCATTERS * Math.max(left.scatterMm, right.scatterMm));
    if (Math.abs(outMm) < least || sudden / outMm < SUDDEN_SHARE) continue;
    const last = jumps.at(-1);
    if (last && middle - last.s < SIDE_MM) {
      if (Math.abs(last.outMm) >= Math.abs(outMm)) continue;
      jumps.pop();
    }
    jumps.push({ track, s: middle, outMm });
  }
  return jumps;
}

/** Mean of a side of a place, going on with half of its own slope, which over so short a side is not known well. */
function fitSide({ s, out }: Track, from: number, step: 1 | -1) {
  const near: number[] = [];
  for (let k = from; k >= 0 && k < s.length && Math.abs(s[k]! - s[from]!) < SIDE_MM; k += step) near.push(k);
  if (near.length < LEAST_IN_SIDE) return null;
  const meanS = near.reduce((sum, k) => sum + s[k]!, 0) / near.length;
  const meanOut = near.reduce((sum, k) => sum + out[k]!, 0) / near.length;
  let xx = 0;
  let xy = 0;
  for (const k of near) {
    xx += (s[k]! - meanS) ** 2;
    xy += (s[k]! - meanS) * (out[k]! - meanOut);
  }
  const slope = xx > 0 ? xy / xx : 0;
  const scatterMm = Math.sqrt(
    near.reduce((sum, k) => sum + (out[k]! - meanOut - slope * (s[k]! - meanS)) ** 2, 0) / near.length,
  );
  return { scatterMm, at: (place: number) => meanOut + 0.5 * slope * (place - meanS) };
}

/** Edges that enough lines agree on, the largest jumps first. */
function gatherEdges(
  tracks: readonly Track[],
  jumps: readonly Jump[],
  lengthMm: number,
): Omit<Setback, 'axis'>[] {
  const left = [...jumps].sort((a, b) => Math.abs(b.outMm) - Math.abs(a.outMm));
  const edges: Omit<Setback, 'axis'>[] = [];
  while (left.length > 0) {
    const first = left[0]!;
    const same = left.filter(
      ({ s, outMm }) => Math.abs(s - first.s) < ALIKE_MM && Math.sign(outMm) === Math.sign(first.outMm),
    );
    for (const jump of same) left.splice(left.indexOf(jump), 1);
    const jumping = new Set(same.map(({ track }) => track));
    const passing = tracks
      .filter(({ s }) => s.length > 0 && s[0]! < first.s - SIDE_MM && s.at(-1)! > first.s + SIDE_MM)
      .sort((a, b) => a.seen.sheet.at - b.seen.sheet.at);
    if (jumping.size < LEAST_LINES || jumping.size < LEAST_SHARE * passing.length) continue;
    const [fromMm, toMm] = reachOf(passing, jumping, lengthMm);
    const atMm = Math.floor(medianOf(same.map(({ s }) => s))) + BETWEEN_MM;
    edges.push({ atMm, fromMm, toMm, outMm: medianOf(same.map(({ outMm }) => outMm)) });
  }
  return edges;
}

/** From where to where an edge runs: to half way to the first line that passes without a jump, else to the wall's end. */
function reachOf(passing: readonly Track[], jumping: ReadonlySet<Track>, lengthMm: number): [number, number] {
  const first = passing.findIndex((track) => jumping.has(track));
  const last = passing.findLastIndex((track) => jumping.has(track));
  const between = (a: number, b: number) => (passing[a]!.seen.sheet.at + passing[b]!.seen.sheet.at) / 2;
  return [
    first > 0 ? between(first - 1, first) : 0,
    last >= 0 && last < passing.length - 1 ? between(last, last + 1) : lengthMm,
  ];
}

/** A network without the stretches that lie too near to an edge to be on a known side of it. */
export function dropEdges(network: Network, state: NetworkState, setbacks: readonly Setback[]): Network {
  const lines = network.lines.map((seen, line) => {
    const stretches = seen.stretches.filter((stretch) => {
      const camera = state.cameras[seen.station]!;
      const { along, up } = placeOnSheet(camera, seen, state.sheets[line]!, stretch).place;
      return !liesAtEdge(setbacks, along, up);
    });
    return stretches.length === seen.stretches.length ? seen : { ...seen, stretches };
  });
  return { ...network, lines };
}
