import { describe, expect, test } from 'vitest';
import { listCandidates, observeReading } from '../../../src/core/next/candidates.ts';
import { chooseStep, formJoint, rowOf, type JointWall } from '../../../src/core/next/jointWall.ts';
import { findReductions } from '../../../src/core/next/shrink.ts';
import { indexNode } from '../../../src/core/solve/grid.ts';
import { ROUGH_SPOT } from '../../../src/core/solve/linearize.ts';
import { solveAndKeep, type Kept } from '../../../src/core/solve/solve.ts';
import { makeSurvey } from '../../truth/survey.ts';
import { takeNext } from './taken.ts';

const options = { width: 2400, height: 1800, levels: [400], plumbs: [800], everyPx: 6 } as const;
const made = makeSurvey(3, 'bulged', options);
const { solution, kept } = solveAndKeep(made.survey);
const joint = formJoint(kept);
const varianceOf = ({ covariance, order }: JointWall, node: number) => covariance[node * order + node]!;
const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, v) => sum + v, 0) / values.length);

describe('the joint covariance', () => {
  test('is symmetric, and positive at every node and lens', () => {
    const { covariance, order } = joint;
    for (let i = 0; i < order; i++) {
      expect(covariance[i * order + i]).toBeGreaterThan(0);
      for (let j = 0; j < i; j += 7) {
        const size = Math.sqrt(covariance[i * order + i]! * covariance[j * order + j]!);
        expect(Math.abs(covariance[i * order + j]! - covariance[j * order + i]!)).toBeLessThan(1e-6 * size);
      }
    }
  });

  test("has the surface's own sigmas, within what a coarser grid costs", () => {
    const { grid, scale } = joint.model;
    const { surface } = solution;
    const ratios: number[] = [];
    for (let i = 0; i < grid.nx; i++)
      for (let j = 0; j < grid.ny; j++) {
        const at = ((j * grid.stepMm) / surface.stepMm) * surface.nx + (i * grid.stepMm) / surface.stepMm;
        const own = surface.sigma[at]! ** 2 - (ROUGH_SPOT * scale.roughMm) ** 2;
        ratios.push(Math.sqrt(varianceOf(joint, indexNode(grid, i, j)) / own));
      }
    ratios.sort((a, b) => a - b);
    expect(ratios[ratios.length >> 1]).toBeGreaterThan(0.98);
    expect(ratios[ratios.length >> 1]).toBeLessThan(1.05);
    expect(ratios[0]).toBeGreaterThan(0.9);
    expect(ratios.at(-1)).toBeLessThan(1.25);
  });

  test('is formed on a grid that its cost allows, however long the wall', () => {
    for (const width of [2400, 3600, 12_000, 40_000]) {
      const step = chooseStep({ width, height: 2450 });
      expect((width / step + 1) * (2450 / step + 1)).toBeLessThan(960);
    }
  });
});

/** The kept solve with one observation more, to be adjusted anew. */
function addObservation(from: Kept, observation: ReturnType<typeof observeReading>): Kept {
  const { settled } = from.coarse;
  const observations = [...settled.observations, observation];
  const weights = Float64Array.from([...settled.weights, 1]);
  return { ...from, coarse: { ...from.coarse, settled: { ...settled, observations, weights } } };
}

describe('variances after a measurement', () => {
  test('are exactly those of the adjustment with that reading added', () => {
    for (const [along, up] of [
      [1500, 1200],
      [330, 1745],
    ] as const) {
      const reading = observeReading(along, up, 0.7);
      const lowered = findReductions(joint, [rowOf(joint, reading, () => 0)], 0);
      const anew = formJoint(addObservation(kept, reading));
      for (let node = 0; node < joint.nodes; node++) {
        const before = varianceOf(joint, node);
        expect(Math.abs(before - lowered[node]! - varianceOf(anew, node))).toBeLessThan(1e-6 * before);
      }
    }
  });

  test('of two readings at once are those of one after the other', () => {
    const [first, second] = [observeReading(600, 600, 0.7), observeReading(1800, 1500, 0.5)];
    const rows = [first, second].map((each) => rowOf(joint, each, () => 0));
    const both = findReductions(joint, rows, 0);
    const alone = findReductions(joint, [rows[0]!], 0);
    const after = formJoint(addObservation(kept, first));
    const then = findReductions(after, [rowOf(after, second, () => 0)], 0);
    for (let node = 0; node < joint.nodes; node += 5)
      expect(both[node]).toBeCloseTo(alone[node]! + then[node]!, 5);
  });

  // the photograph is taken for real, resected and solved with all the rest; only the wall's scale is held as it was
  test.each([
    ['level', 1200, 1100],
    ['plumb', 1700, 900],
  ] as const)('of a %s line are those of a solve with its photograph', (kind, along, up) => {
    const candidate = listCandidates(joint, kept).find(
      (each) => each.kind === kind && (kind === 'level' ? each.up === up : each.along === along),
    )!;
    const lowered = findReductions(joint, candidate.rows, candidate.ownCount);
    const solved = solveAndKeep(takeNext(made, 99, { kind, along, up }, options)).kept;
    const { task } = solved.coarse;
    const model = { ...task.model, scale: kept.coarse.task.model.scale };
    const anew = formJoint({ ...solved, coarse: { ...solved.coarse, task: { ...task, model } } });
    const nodes = Array.from({ length: joint.nodes }, (_, node) => node);
    const now = rms(nodes.map((node) => varianceOf(joint, node)));
    const foretold = rms(nodes.map((node) => varianceOf(joint, node) - lowered[node]!));
    const came = rms(nodes.map((node) => varianceOf(anew, node)));
    expect(came).toBeLessThan(0.97 * now);
    expect((now - foretold) / (now - came)).toBeGreaterThan(0.85);
    expect((now - foretold) / (now - came)).toBeLessThan(1.15);
  });
});
