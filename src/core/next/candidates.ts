import { isLined } from '../lining/linedNodes.ts';
import { indexNode } from '../solve/grid.ts';
import { ROUGH_SPOT } from '../solve/linearize.ts';
import { liesIn } from '../solve/network.ts';
import type { Observation } from '../solve/observation.ts';
import type { Kept } from '../solve/solve.ts';
import type { NextMeasure } from '../results.ts';
import type { Wall } from '../survey.ts';
import { rowOf, type JointRow, type JointWall } from './jointWall.ts';
import { listMiddles, planLinePhoto } from './plannedPhoto.ts';
import { describeUsualPhoto } from './usualPhoto.ts';

/** A measurement that could be made next, as rows on the joint wall. */
export interface Candidate extends Pick<NextMeasure, 'kind' | 'along' | 'up' | 'stretch'> {
  readonly rows: readonly JointRow[];
  readonly ownCount: number;
}

/** A rule stands clear of the wall's ends, openings and boxes by this, and is not held higher (mm; common practice, no source). */
const CLEAR_MM = 50;
const REACH_MM = 2400;
/** Readings are tried so far apart at least; a line is not thrown nearer to floor, ceiling or the wall's ends. */
const READING_EVERY_MM = 200;
const LINE_CLEAR_MM = 100;
const USUAL_SIGMA_MM = 0.7;

/** Everything that could be measured next: readings on the joint wall's nodes, level and plumb lines along its rows. */
export function listCandidates(joint: JointWall, kept: Kept): Candidate[] {
  return [...listReadings(joint, kept), ...listLines(joint, kept)];
}

/** Whether a rule can be set on the wall at a place (mm). */
export function canRead(wall: Wall, along: number, up: number): boolean {
  const inside =
    along >= CLEAR_MM && along <= wall.width - CLEAR_MM && up >= CLEAR_MM && up <= wall.height - CLEAR_MM;
  const rects = [...wall.openings, ...wall.boxes];
  return (
    inside &&
    up <= REACH_MM &&
    isLined(wall, along, up) &&
    !rects.some((rect) => liesIn(rect, along, up, CLEAR_MM))
  );
}

/** A reading as an observation of the network. */
export function observeReading(along: number, up: number, sigma: number): Observation {
  return {
    kind: 'reading',
    subject: 0,
    along,
    up,
    field: 1,
    unknowns: [],
    factors: [],
    target: 0,
    sigma,
    roughness: ROUGH_SPOT,
  };
}

function listReadings(joint: JointWall, { survey, coarse }: Kept): Candidate[] {
  const { grid } = joint.model;
  // fewer than three readings do not hold the wall's plane, and say nothing by themselves
  if (coarse.task.network.readings.every((reading) => reading.leftOut)) return [];
  const sigmas = survey.readings.map(({ sigma }) => sigma).sort((a, b) => a - b);
  const sigma = sigmas[(sigmas.length - 1) >> 1] ?? USUAL_SIGMA_MM;
  const every = Math.max(1, Math.round(READING_EVERY_MM / grid.stepMm));
  const found: Candidate[] = [];
  for (let i = 0; i < grid.nx; i++)
    for (let j = 0; j < grid.ny; j++) {
      const [along, up] = [i * grid.stepMm, j * grid.stepMm];
      if (i % every !== 0 || j % every !== 0 || !canRead(survey.wall, along, up)) continue;
      const row = rowOf(joint, observeReading(along, up, sigma), () => indexNode(grid, i, j));
      found.push({ kind: 'reading', along, up, stretch: null, rows: [row], ownCount: 0 });
    }
  return found;
}

function listLines(joint: JointWall, kept: Kept): Candidate[] {
  const usual = describeUsualPhoto(kept);
  if (!usual) return [];
  const { stepMm, nx, ny } = joint.model.grid;
  const { width, height } = kept.survey.wall;
  const found: Candidate[] = [];
  const add = (axis: 'level' | 'plumb', count: number, acrossMm: number, lengthMm: number) => {
    const middles = listMiddles(usual, axis, lengthMm);
    for (let k = 0; k < count; k++) {
      const at = k * stepMm;
      if (at < LINE_CLEAR_MM || at > acrossMm - LINE_CLEAR_MM) continue;
      for (const middle of middles) {
        const planned = planLinePhoto(joint, kept, usual, { axis, at }, middle);
        if (!planned) continue;
        const { from, to, rows, ownCount } = planned;
        const place =
          axis === 'level' ? { along: (from + to) / 2, up: at } : { along: at, up: (from + to) / 2 };
        found.push({ kind: axis, ...place, stretch: { from, to }, rows, ownCount });
      }
    }
  };
  add('level', ny, height, width);
  add('plumb', nx, width, height);
  return found;
}
