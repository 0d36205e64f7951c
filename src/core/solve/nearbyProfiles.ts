import type { Profile } from '../results.ts';
import type { Survey } from '../survey.ts';
import { invertBordered, findSpread } from './borderedInverse.ts';
import { differentiateSeenPoint } from './linearize.ts';
import type { Network } from './network.ts';
import { emptyProfile, drawProfileFrom } from './profiles.ts';
import type { Settled } from './settle.ts';

/** Of so many points one is followed exactly; between them what changes is the same curve, smooth as cameras and sheets are. */
const EVERY = 24;

/**
 * Profiles after a small change: lines that were looked at anew are drawn anew, the others moved by what the corrections to their camera and
 * sheet make of them, linear at the state before, and their sigma by what the covariances changed.
 */
export function moveProfiles(
  survey: Survey,
  network: Network,
  drawn: readonly Profile[],
  before: Settled,
  now: Settled,
  isChanged: (line: number) => boolean,
): Profile[] {
  const inverse = invertBordered(now.adjustment.factor);
  const inverseBefore = invertBordered(before.adjustment.factor);
  let at = 0;
  return survey.photos.flatMap((photo) =>
    photo.lines.map((line): Profile => {
      const profile = drawn[at++]!;
      const index = network.lines.findIndex((seen) => seen.line === line);
      if (index < 0) return emptyProfile(photo.id, line);
      if (isChanged(index) || profile.s.length === 0)
        return drawProfileFrom(survey, network, now.state, inverse, index);
      const steps = listAnchors(profile.s.length).map((k) => {
        const by = differentiateSeenPoint(network, before.state, index, {
          u: profile.u[k]!,
          v: profile.v[k]!,
        })!;
        const moved = by.unknowns.reduce(
          (sum, q, j) =>
            sum + by.outFactors[j]! * (now.adjustment.unknowns[q]! - before.adjustment.unknowns[q]!),
          0,
        );
        const widened =
          findSpread(inverse, by.unknowns, by.outFactors) -
          findSpread(inverseBefore, by.unknowns, by.outFactors);
        return { k, moved, widened };
      });
      const out = profile.out.slice();
      const sigma = profile.sigma.slice();
      for (let step = 0; step < steps.length; step++) {
        const { k, moved, widened } = steps[step]!;
        const next = steps[step + 1] ?? { k: k + 1, moved, widened };
        for (let i = k; i < next.k; i++) {
          const share = (i - k) / (next.k - k);
          out[i]! += moved + share * (next.moved - moved);
          sigma[i] = Math.sqrt(Math.max(0, sigma[i]! ** 2 + widened + share * (next.widened - widened)));
        }
      }
      return { ...profile, out, sigma };
    }),
  );
}

function listAnchors(count: number): number[] {
  const anchors = Array.from({ length: Math.ceil((count - 1) / EVERY) }, (_, k) => k * EVERY);
  return [...anchors, count - 1];
}
