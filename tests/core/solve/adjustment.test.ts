import { expect, test } from 'vitest';
import { adjust, createFieldModel, placeOnGrid } from '../../../src/core/solve/adjustment.ts';
import { addToBand } from '../../../src/core/solve/banded.ts';
import {
  addToBorder,
  addToCorner,
  createBordered,
  factorBordered,
  solveBordered,
} from '../../../src/core/solve/bordered.ts';
import { findVariance, invertBordered } from '../../../src/core/solve/borderedInverse.ts';
import { createGrid } from '../../../src/core/solve/grid.ts';
import { solveAndKeep } from '../../../src/core/solve/solve.ts';
import { makeSurvey } from '../../truth/survey.ts';

test('a long wall with unknowns that reach a part of it is solved as with a border over all of it', () => {
  const { survey } = makeSurvey(2, 'plaster', {
    width: 6000,
    height: 900,
    levels: [200, 700],
    plumbs: [1000, 5000],
    stretchMm: 2000,
    everyPx: 8,
  });
  const { task, settled } = solveAndKeep(survey).kept.coarse;
  const { observations, weights } = settled;
  const m = settled.adjustment.unknowns.length;
  const model = createFieldModel(createGrid(survey.wall, 75), task.model.scale);
  const moving = adjust(model, observations, weights, m);

  const n = model.precision.n;
  const band = { ...model.precision, entries: model.precision.entries.slice() };
  const whole = createBordered(band, m);
  const x = new Float64Array(n);
  const y = new Float64Array(m);
  observations.forEach((observation, index) => {
    const { nodes, nodeFactors, unknowns, factors, sigma } = placeOnGrid(model, observation);
    const share = weights[index]! / sigma ** 2;
    nodes.forEach((node, a) => {
      x[node]! += share * nodeFactors[a]! * observation.target;
      for (let b = 0; b <= a; b++)
        addToBand(band, node, nodes[b]!, share * nodeFactors[a]! * nodeFactors[b]!);
      unknowns.forEach((q, b) => addToBorder(whole, q, node, share * nodeFactors[a]! * factors[b]!));
    });
    unknowns.forEach((q, a) => {
      y[q]! += share * factors[a]! * observation.target;
      for (let b = 0; b <= a; b++) addToCorner(whole, q, unknowns[b]!, share * factors[a]! * factors[b]!);
    });
  });
  const factor = factorBordered(whole);
  solveBordered(factor, x, y);
  expect(moving.factor.border.length).toBeLessThan(0.6 * factor.border.length);
  const [own, other] = [invertBordered(moving.factor), invertBordered(factor)];
  for (let node = 0; node < n; node++) {
    expect(moving.field[node]).toBeCloseTo(x[node]!, 6);
    expect(findVariance(own, [node], [1], [], [])).toBeCloseTo(findVariance(other, [node], [1], [], []), 7);
  }
  y.forEach((value, q) => expect(moving.unknowns[q]).toBeCloseTo(value, 6));
  for (const observation of observations) {
    const { nodes, nodeFactors, unknowns, factors, sigma } = placeOnGrid(model, observation);
    const variance = findVariance(other, nodes, nodeFactors, unknowns, factors);
    expect(findVariance(own, nodes, nodeFactors, unknowns, factors) / sigma ** 2).toBeCloseTo(
      variance / sigma ** 2,
      6,
    );
  }
});
