import { refuse } from '../refusal.ts';
import { chiSquare999 } from './chiSquare.ts';
import { bendEdge, thinEdge, type BentEdge, type EdgeCurve } from './straightEdge.ts';

/** What one straight thing says of the lens. */
export interface EdgeFit {
  /** k1 by this one alone, and its sigma: large for one that runs near the middle of the picture. */
  readonly k1: number;
  readonly sigma: number;
  /** How far its points (means of short stretches) lie off a straight line, the lens taken out and as photographed (px). */
  readonly rmsPx: number;
  readonly bentRmsPx: number;
  /** Its k1 less that of all, in sigmas of the difference. */
  readonly w: number;
}

/** A lens as found from straight things. */
export interface LensCheck {
  readonly k1: number;
  /** With the focal length's share, and widened where the edges contradict each other more than their points explain. */
  readonly sigma: number;
  readonly chiSquare: number;
  readonly redundancy: number;
  /** Whether all points lie as near to straight lines as their sigmas say: chi-square within its 99.9 % point. */
  readonly agrees: boolean;
  /** How far the edges seem to be bent themselves (px in their middles, sigma); 0 where they do not contradict each other. */
  readonly bowPx: number;
  readonly edges: readonly EdgeFit[];
}

/** One edge alone could as well be bent itself. */
const LEAST_EDGES = 2;
/** Points of an edge: two for its line, one for the lens, and some to judge it by. */
const LEAST_POINTS = 8;
/** A k1 known no better is not worth the check: nothing known is 0.01. */
const USEFUL_SIGMA = 0.005;
const ROUNDS = 30;
/** Edges bent by more than this contradict each other beyond use (px). */
const MOST_BOW_PX = 100;
/** Student's 95 % point over the normal one, by redundancy from 1: a bow that only a few edges tell is known badly itself. */
export const STUDENT = [6.48, 2.2, 1.62, 1.42, 1.31, 1.25, 1.21, 1.18, 1.15, 1.14];
const STUDENT_MORE = 1.1;
/** Settled when k1 moves by less. */
const STILL = 1e-10;

/**
 * Radial distortion k1 of a lens from pictures of straight things: the k1 that makes them straight, by least squares on the
 * distances of the undistorted points from their lines, each line fitted anew (variable projection). All are of one lens. k1 goes
 * with the square of the focal length: `focalSigma`, that of its logarithm, adds 2 k1 focalSigma to the sigma.
 * An edge whose points scatter more than their sigma counts less. Where edges contradict each other they are taken to be bent
 * themselves, as much as explains it, and sigma is widened.
 * @throws edges_few: fewer than 2; edge_short; edges_central: they run so near the middle of the picture that k1 stays unknown;
 * edge_not_straight: one is bent unlike all others; edges_disagree
 * Source: Brown 1971, "Close-range camera calibration", Photogrammetric Engineering 37(8); Devernay and Faugeras 2001, "Straight
 * lines have to be straight", Machine Vision and Applications 13(1); bow: Paule and Mandel 1982, "Consensus values and weighting
 * factors", J. Res. NBS 87(5) (all from memory).
 */
export function checkLens(curves: readonly EdgeCurve[], focalSigma: number): LensCheck {
  if (curves.length < LEAST_EDGES) refuse({ code: 'edges_few', count: curves.length });
  const short = curves.findIndex(({ u }) => u.length < LEAST_POINTS);
  if (short >= 0) refuse({ code: 'edge_short', edge: short });
  const thinned = curves.map(thinEdge);
  const fit = fitEdges(thinned);
  if (!fit || !(fit.innerSigma <= USEFUL_SIGMA)) return refuse({ code: 'edges_central' });
  if (fit.sigma > USEFUL_SIGMA) {
    const odd = findOdd(thinned);
    refuse(odd < 0 ? { code: 'edges_disagree', sigma: fit.sigma } : { code: 'edge_not_straight', edge: odd });
  }
  const { k1, bent, voices, bowPx } = fit;
  const redundancy = bent.reduce((sum, { count }) => sum + count - 2, -1);
  const chiSquare = bent.reduce((sum, { missSquare }) => sum + missSquare, 0);
  return {
    k1,
    sigma: Math.hypot(fit.sigma, 2 * k1 * focalSigma),
    chiSquare,
    redundancy,
    bowPx,
    agrees: chiSquare <= chiSquare999(redundancy),
    edges: bent.map((edge, i): EdgeFit => {
      const { step, sigma, perBowPx } = voices[i]!;
      const own = Math.hypot(sigma, bowPx * perBowPx);
      const apart = Math.sqrt(Math.max(0, own ** 2 - average(voices, bowPx).sigma ** 2));
      return {
        k1: k1 + step,
        sigma,
        rmsPx: edge.rmsPx,
        bentRmsPx: bendEdge(thinned[i]!, 0)!.rmsPx,
        w: apart > 0 ? step / apart : 0,
      };
    }),
  };
}

interface Fit {
  readonly k1: number;
  /** By the points alone; and with what the edges are bent themselves. */
  readonly innerSigma: number;
  readonly sigma: number;
  /** How far the edges are bent themselves, by how they contradict each other (px in their middles, sigma). */
  readonly bowPx: number;
  readonly bent: readonly BentEdge[];
  readonly voices: readonly Voice[];
}

/** One edge's own k1: its step from the present one, its sigma by the points, and how far a bow of 1 px would move it. */
interface Voice {
  readonly step: number;
  readonly sigma: number;
  readonly perBowPx: number;
}

/** Gauss-Newton on k1, each edge weighed by its points and its bow; null beyond a lens's fold, or where no edge says anything. */
function fitEdges(curves: readonly EdgeCurve[]): Fit | null {
  let k1 = 0;
  for (let round = 1; ; round++) {
    const bent: BentEdge[] = [];
    for (const curve of curves) {
      const edge = bendEdge(curve, k1);
      if (!edge) return null;
      bent.push(edge);
    }
    const voices = bent.map(hearEdge);
    if (!voices.some(({ sigma }) => Number.isFinite(sigma))) return null;
    const bowPx = estimateBow(voices);
    const { step, sigma } = average(voices, bowPx);
    if (Math.abs(step) < STILL || round >= ROUNDS) {
      const inner = average(voices, 0);
      const evident = inner.square > chiSquare999(voices.length - 1);
      const widening = evident ? (STUDENT[voices.length - 2] ?? STUDENT_MORE) : 1;
      return { k1, innerSigma: inner.sigma, sigma: sigma * widening, bowPx, bent, voices };
    }
    k1 += step;
  }
}

function hearEdge(edge: BentEdge): Voice {
  const { slopeSquare, product, bowProduct } = edge;
  if (!(slopeSquare > 0)) return { step: 0, sigma: Infinity, perBowPx: 0 };
  return {
    step: -product / slopeSquare,
    sigma: measureScatter(edge) / Math.sqrt(slopeSquare),
    perBowPx: Math.abs(bowProduct) / slopeSquare,
  };
}

/** Weighted mean of the edges' steps where each is bent by `bowPx` (sigma), its sigma, and the squares about it. */
function average(voices: readonly Voice[], bowPx: number) {
  const information = voices.map(({ sigma, perBowPx }) => 1 / (sigma ** 2 + (bowPx * perBowPx) ** 2));
  const total = information.reduce((sum, each) => sum + each, 0);
  const step = voices.reduce((sum, voice, i) => sum + information[i]! * voice.step, 0) / total;
  const square = voices.reduce((sum, voice, i) => sum + information[i]! * (voice.step - step) ** 2, 0);
  return { step, sigma: 1 / Math.sqrt(total), square };
}

/** The edges' own bow (px, sigma) that makes their squares about the mean as many as they should be; 0 where they are fewer. */
function estimateBow(voices: readonly Voice[]): number {
  const wanted = voices.length - 1;
  let low = 0;
  let high = MOST_BOW_PX;
  if (average(voices, 0).square <= wanted) return 0;
  for (let k = 0; k < 60; k++) {
    const middle = (low + high) / 2;
    if (average(voices, middle).square > wanted) low = middle;
    else high = middle;
  }
  return high;
}

function measureScatter({ missSquare, slopeSquare, product, count }: BentEdge): number {
  const own = missSquare - (slopeSquare > 0 ? product ** 2 / slopeSquare : 0);
  const redundancy = count - 3;
  return redundancy > 0 && own > chiSquare999(redundancy) ? Math.sqrt(own / redundancy) : 1;
}

/** The one edge without which the others agree to a useful k1; -1 where there is none or it cannot be told from others. */
function findOdd(curves: readonly EdgeCurve[]): number {
  if (curves.length <= LEAST_EDGES) return -1;
  const useful = curves
    .map((_, odd) => ({ odd, fit: fitEdges(curves.filter((__, i) => i !== odd)) }))
    .filter(({ fit }) => fit !== null && fit.sigma <= USEFUL_SIGMA)
    .sort((a, b) => a.fit!.sigma - b.fit!.sigma);
  return useful[0]?.odd ?? -1;
}
