import { liesOnBlock } from '../camera/block.ts';
import { liesInGap, triangulateLine } from '../camera/triangulate.ts';
import { alongSheet } from '../camera/sheet.ts';
import { findSpread, invertBordered, type BorderedInverse } from './borderedInverse.ts';
import { liesOnBox } from './boxes.ts';
import { smoothOffsets } from './smooth.ts';
import type { Profile } from '../results.ts';
import type { LaserLine, Survey } from '../survey.ts';
import type { Adjustment } from './adjustment.ts';
import { differentiateSeenPoint, type NetworkState } from './linearize.ts';
import { liesOnWall, type Network } from './network.ts';

/** A line without points as a profile: nothing is invented. */
export function emptyProfile(photo: string, line: LaserLine): Profile {
  const none = () => new Float64Array(0);
  return {
    photo,
    line: line.id,
    axis: line.sheet.axis,
    atMm: line.sheet.at ?? NaN,
    s: none(),
    out: none(),
    sigma: none(),
    u: none(),
    v: none(),
  };
}

/**
 * Profile of one line at the solved state: every point (not the thinned ones) cut with the corrected sheet by the corrected
 * camera, in order along the line, its speckle smoothed; sigma = the noise left and the covariance of camera, lens and sheet together.
 * A profile is of the wall: points on a packer held against it and on boxes are left out.
 */
export function drawProfileFrom(
  survey: Survey,
  network: Network,
  state: NetworkState,
  inverse: BorderedInverse,
  lineIndex: number,
): Profile {
  const { photo, line, station, sheet } = network.lines[lineIndex]!;
  const camera = state.cameras[station]!;
  const found = triangulateLine(camera, line);
  const { blocks = [] } = photo;
  const rows: {
    s: number;
    out: number;
    noise: number;
    shared: number;
    alongSigma: number;
    u: number;
    v: number;
  }[] = [];
  for (let k = 0; k < found.s.length; k++) {
    const image = { u: found.u[k]!, v: found.v[k]! };
    const by = differentiateSeenPoint(network, state, lineIndex, image);
    if (!by || !liesOnWall(survey.wall, by.place.along, by.place.up)) continue;
    if (liesOnBox(survey.wall, by.place.along, by.place.up)) continue;
    if (liesInGap(line, found, k) || liesOnBlock(line, blocks, found, k)) continue;
    rows.push({
      s: alongSheet(sheet, by.place),
      out: by.place.out,
      noise: found.sigmaPx[k]! * by.outPerPx,
      shared: Math.max(0, findSpread(inverse, by.unknowns, by.outFactors)),
      alongSigma: Math.sqrt(Math.max(0, findSpread(inverse, by.unknowns, by.alongFactors))),
      ...image,
    });
  }
  rows.sort((a, b) => a.s - b.s);
  const s = Float64Array.from(rows, (row) => row.s);
  const { out, noise } = smoothOffsets(
    s,
    Float64Array.from(rows, (row) => row.out),
    Float64Array.from(rows, (row) => row.noise),
  );
  const sigma = Float64Array.from(rows, ({ shared, alongSigma }, k) => {
    const slip = changeOver(s, out, k, alongSigma);
    return Math.sqrt(noise[k]! ** 2 + shared + Math.max(0, slip ** 2 - noise[k]! ** 2 / 2));
  });
  return {
    photo: photo.id,
    line: line.id,
    axis: sheet.axis,
    atMm: sheet.at,
    s,
    out,
    sigma,
    u: Float64Array.from(rows, (row) => row.u),
    v: Float64Array.from(rows, (row) => row.v),
  };
}

/** Half the change of the offset from `reach` before point k to `reach` after it (mm): what a slip along the line costs. */
function changeOver(s: Float64Array, out: Float64Array, k: number, reach: number): number {
  let before = k;
  let after = k;
  while (before > 0 && s[k]! - s[before]! < reach) before--;
  while (after < s.length - 1 && s[after]! - s[k]! < reach) after++;
  return Math.abs(out[after]! - out[before]!) / 2;
}

/** Profiles of all lines of a survey, photo by photo; empty where a line was not found or takes no part. */
export function listProfiles(
  survey: Survey,
  network: Network,
  state: NetworkState,
  adjustment: Adjustment,
): Profile[] {
  const inverse = invertBordered(adjustment.factor);
  return survey.photos.flatMap((photo) =>
    photo.lines.map((line) => {
      const index = network.lines.findIndex((seen) => seen.line === line && seen.photo === photo);
      return index < 0
        ? emptyProfile(photo.id, line)
        : drawProfileFrom(survey, network, state, inverse, index);
    }),
  );
}
