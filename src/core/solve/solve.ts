import { refuse, type Warning } from '../refusal.ts';
import type { PhoneLens, PhotoPose, Profile, Solution, Surface } from '../results.ts';
import type { Reading, Survey } from '../survey.ts';
import { invertBordered, readCovariance } from './borderedInverse.ts';
import { measureBoxes, warnOfBoxes } from './boxes.ts';
import { dropEdges, findSetbacks } from './findSetbacks.ts';
import { listFits } from './fits.ts';
import { chooseGrid, createGrid, type Grid } from './grid.ts';
import {
  applyCorrections,
  ROUGH_ANYWHERE,
  VAGUE_TREND,
  type NetworkState,
  type TrendPrior,
} from './linearize.ts';
import { indexLens, type Network } from './network.ts';
import { checkReadings, evaluatePlane, fitPlane } from './plane.ts';
import { listProfiles } from './profiles.ts';
import { listResiduals, warnOfSuspects } from './residuals.ts';
import { estimateScale, USUAL_SCALE } from './scale.ts';
import { createTask, settleNetwork, type LeftOut, type Settled, type Task } from './settle.ts';
import { snoopNetwork, type Snooped } from './snoop.ts';
import { hasPoints, startNetwork, type StartedNetwork } from './stations.ts';
import { isUncertain, readSurface } from './surface.ts';

/** Steps (mm) of the grids that gross errors are looked for and the iterations run on; only the last solve is on the surface's own. */
const GROSS_STEP_MM = 100;
const COARSE_STEP_MM = 50;
const ROUNDS = 8;
/** Before the wall's scale is known only errors this many times over the limit are taken out. */
const GROSS_FACTOR = 2.5;
/** k2 is told where its sigma is under this share of what it was before. */
const K2_TOLD_SHARE = 0.6;

/**
 * The whole wall from everything measured: cameras, lens, sheets of light and surface solved together with honest sigmas,
 * wrong readings, lines and marks named. `progress` is told the share done. Deterministic: same survey, same result. `stepMm` = the
 * surface's step, chosen by the wall's size where not given; up to 50 mm it does not change what is found wrong.
 * Without any reading the mean wall plane is taken as out = 0.
 * @throws nothing_measured, readings_few, readings_in_line; where nothing else was measured, what stops the first photo
 * Source: DEVELOPERS.md "The whole wall".
 */
export function solveSurvey(
  survey: Survey,
  progress: (share: number) => void = () => {},
  stepMm?: number,
): Solution {
  return solveAndKeep(survey, progress, stepMm).solution;
}

/** What a solve leaves to go on from: its network on the grid that the tests were made on, and as solved last. */
export interface Kept {
  readonly survey: Survey;
  readonly started: Pick<StartedNetwork, 'phoneIds' | 'warnings'>;
  readonly coarse: Snooped;
  readonly final: Settled;
  /** As drawn, before a wall without readings is levelled. */
  readonly profiles: readonly Profile[];
  /** The full solve that this one was a small change of. */
  readonly base?: Kept;
}

/** `solveSurvey`, with what it leaves to go on from. @throws as `solveSurvey` */
export function solveAndKeep(
  survey: Survey,
  progress: (share: number) => void = () => {},
  stepMm?: number,
): { readonly solution: Solution; readonly kept: Kept } {
  const held = listHeld(survey);
  checkReadings(held);
  const anyLine = survey.photos.some((photo) => photo.lines.some(hasPoints));
  if (held.length === 0 && !anyLine) refuse({ code: 'nothing_measured' });
  const { network, doubts, ...started } = startNetwork(survey, guessOffsets(held));
  if (held.length === 0 && network.lines.length === 0) refuse({ code: 'nothing_measured' });
  progress(0.1);
  const grid = stepMm === undefined ? chooseGrid(survey.wall) : createGrid(survey.wall, stepMm);
  const coarse = settleCoarsely(survey, network, doubts, grid, progress);
  progress(0.45);
  const final = settleFinely(coarse.task, coarse.settled, grid.stepMm);
  progress(0.7);
  const parted = coarse.task.network;
  const profiles = listProfiles(survey, parted, final.state, final.adjustment);
  const solved = { coarse, final, profiles };
  const solution = tellSolution(survey, parted, started, solved);
  progress(1);
  return { solution, kept: { survey, started, ...solved } };
}

/** What is told of a solved network. */
export function tellSolution(
  survey: Survey,
  network: Network,
  { phoneIds, warnings }: Kept['started'],
  { coarse: { task, settled, tests }, final, profiles }: Pick<Kept, 'coarse' | 'final' | 'profiles'>,
): Solution {
  const held = listHeld(survey);
  const surface = readSurface(survey.wall, final.adjustment);
  const { rangeMm, sdMm, roughMm } = task.model.scale;
  const residuals = listResiduals(survey, task, settled.state, tests);
  const told: Warning[] = [...warnings, ...warnOfSuspects(residuals)];
  if (held.length === 0) told.push({ code: 'no_readings', subject: 'wall' });
  const boxes = measureBoxes(survey, network, final);
  told.push(...warnOfBoxes(survey.wall.boxes, boxes));
  if (isUncertain(surface)) told.push({ code: 'surface_uncertain', subject: 'wall' });
  const solution: Solution = {
    profiles,
    boxes,
    surface,
    phones: describePhones(survey, network, phoneIds, final),
    photos: describePhotos(network, final.state, profiles, final),
    residuals,
    fits: listFits(task, settled),
    unevenness: { rangeMm, sdMm, roughMm: ROUGH_ANYWHERE * roughMm },
    setbacks: task.model.grid.setbacks,
    warnings: told.filter(
      (one, k) => told.findIndex((other) => other.code === one.code && other.subject === one.subject) === k,
    ),
  };
  return held.length === 0 ? levelOnMeanPlane(solution) : solution;
}

/** The readings that take part: those not left out by hand. */
export function listHeld({ readings }: Survey): Reading[] {
  return readings.filter(({ leftOut }) => !leftOut);
}

/** A first idea of the wall: the plane of the readings; without readings the laser's plane. */
export function guessOffsets(readings: readonly Reading[]): (alongMm: number, upMm: number) => number {
  if (readings.length === 0) return () => 0;
  const plane = fitPlane(readings.map(({ along, up, distance }) => ({ along, up, out: -distance })));
  return (alongMm, upMm) => evaluatePlane(plane, alongMm, upMm);
}

function startState(survey: Survey, network: Network): NetworkState {
  return {
    cameras: network.stations.map(({ camera, phone }) => {
      const { k1, k2 } = network.phones[phone]!;
      return { ...camera, k1, k2 };
    }),
    lenses: network.phones.map(({ k1, k2 }) => ({ k1, k2 })),
    sheets: network.lines.map(() => ({ shiftMm: 0, tilt: 0 })),
    offsetAt: guessOffsets(listHeld(survey)),
  };
}

/** Iterates on coarser grids: gross errors out, the wall's scale by likelihood, then every error the test finds. */
function settleCoarsely(
  survey: Survey,
  network: Network,
  doubts: LeftOut,
  grid: Grid,
  progress: (share: number) => void,
): Snooped {
  const roughly = createGrid(survey.wall, Math.max(grid.stepMm, GROSS_STEP_MM));
  const first = createTask(network, roughly, USUAL_SCALE, VAGUE_TREND, doubts);
  const gross = snoopNetwork(first, startState(survey, network), GROSS_FACTOR, ROUNDS);
  progress(0.2);
  const { state } = gross.settled;
  const setbacks = findSetbacks(network, state, survey.wall);
  const scale = estimateScale(network, gross.settled, setbacks);
  progress(0.3);
  const stepped = createGrid({ ...survey.wall, setbacks }, Math.max(grid.stepMm, COARSE_STEP_MM));
  const parted = dropEdges(network, state, setbacks);
  const second = createTask(parted, stepped, scale, VAGUE_TREND, gross.task.leftOut);
  return snoopNetwork(second, gross.settled.state, 1, ROUNDS);
}

/** The last solve, on the surface's own grid. Without readings the trend is held where it was found: lean is not known. */
function settleFinely(task: Task, settled: Settled, stepMm: number): Settled {
  const { network, model, leftOut } = task;
  const found = settled.adjustment.unknowns;
  const held: TrendPrior = {
    mean: [found[0]!, found[1]!, found[2]!, 0],
    sigma: [1e-3, 1e-3, 1e-3, VAGUE_TREND.sigma[3]!],
  };
  const trend = network.readings.every((reading) => reading.leftOut) ? held : VAGUE_TREND;
  const fine = createTask(network, createGrid(model.grid.wall, stepMm), model.scale, trend, leftOut);
  const last = settleNetwork(fine, settled.state, 1, settled.weights);
  const { unknowns, offsetAt } = last.adjustment;
  return { ...last, state: applyCorrections(network, settled.state, unknowns, offsetAt) };
}

/** The lenses found; k2 only where the evidence tells more of it than was known before. */
function describePhones(
  survey: Survey,
  network: Network,
  phoneIds: readonly string[],
  { state, adjustment }: Settled,
): PhoneLens[] {
  const inverse = invertBordered(adjustment.factor);
  const readSigma = (unknown: number) => Math.sqrt(readCovariance(inverse, unknown, unknown));
  return phoneIds
    .map((id, phone): PhoneLens => {
      const { k1, k2 } = state.lenses[phone]!;
      const [sigma, k2Sigma] = [readSigma(indexLens(phone)), readSigma(indexLens(phone) + 1)];
      const told = k2Sigma < K2_TOLD_SHARE * network.phones[phone]!.k2Sigma;
      return { id, k1, sigma, ...(told ? { k2, k2Sigma } : {}) };
    })
    .filter(({ id }) => survey.phones.some((phone) => phone.id === id));
}

function describePhotos(
  network: Network,
  state: NetworkState,
  profiles: readonly Profile[],
  { observations, adjustment }: Settled,
): PhotoPose[] {
  return network.stations.flatMap(({ photos }, station) => {
    const camera = state.cameras[station]!;
    const misses = observations.filter(
      ({ kind, subject }) => kind === 'mark' && network.marks[subject]!.station === station,
    );
    const missSquares = misses.map(
      ({ target, field, along, up }) => (target - field * adjustment.offsetAt(along, up)) ** 2,
    );
    return photos.map(({ id }): PhotoPose => {
      const own = profiles.filter((profile) => profile.photo === id);
      const squares = own.flatMap(({ sigma }) => Array.from(sigma, (value) => value * value));
      return {
        id,
        position: camera.position,
        rotationRad: camera.rotationRad,
        focalPx: camera.focalPx,
        offsetSigmaMm: Math.sqrt(average(squares)),
        markRmsPx: Math.sqrt(average(missSquares)),
      };
    });
  });
}

function average(values: readonly number[]): number {
  return values.length === 0 ? NaN : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Without readings out = 0 is the mean plane of the wall: takes the surface's mean plane off surface and profiles. */
function levelOnMeanPlane(solution: Solution): Solution {
  const { nx, stepMm, out } = solution.surface;
  const places = Array.from(out, (value, at) => ({
    along: (at % nx) * stepMm,
    up: Math.floor(at / nx) * stepMm,
    out: value,
  }));
  const plane = fitPlane(places.filter((place) => !Number.isNaN(place.out)));
  const surface: Surface = {
    ...solution.surface,
    out: Float64Array.from(places, (place) => place.out - evaluatePlane(plane, place.along, place.up)),
  };
  const profiles = solution.profiles.map((profile) => ({
    ...profile,
    out: profile.out.map((value, k) => {
      const s = profile.s[k]!;
      const [along, up] = profile.axis === 'level' ? [s, profile.atMm] : [profile.atMm, s];
      return value - evaluatePlane(plane, along, up);
    }),
  }));
  return { ...solution, surface, profiles };
}
