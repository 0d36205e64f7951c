import { expect, test } from 'vitest';
import { leastSquares } from '../../src/core/checks/leastSquares.ts';
import { evaluatePlane, fitPlane } from '../../src/core/solve/plane.ts';
import reference from './adjustment.json' with { type: 'json' };

/** Correct significant figures, as NIST counts them: -log10 of the relative error. */
const figures = (found: number, certified: number) =>
  found === certified ? 16 : -Math.log10(Math.abs(found - certified) / Math.abs(certified));

// NIST Statistical Reference Datasets, linear regression, Norris (lower difficulty), certified values.
test('NIST StRD Norris: coefficients, their standard deviations, residual standard deviation', () => {
  const { x, y, b0, b1, sd_b0, sd_b1, residual_sd } = reference.nist_norris;
  const design = Float64Array.from(x.flatMap((value) => [1, value]));
  const fit = leastSquares(design, 2, Float64Array.from(y));
  expect(figures(fit.solution[0]!, b0)).toBeGreaterThan(11);
  expect(figures(fit.solution[1]!, b1)).toBeGreaterThan(12);
  expect(figures(fit.unitSigma, residual_sd)).toBeGreaterThan(12);
  expect(figures(fit.unitSigma * Math.sqrt(fit.cofactors[0]!), sd_b0)).toBeGreaterThan(12);
  expect(figures(fit.unitSigma * Math.sqrt(fit.cofactors[3]!), sd_b1)).toBeGreaterThan(12);
});

// NIST Statistical Reference Datasets, linear regression, Longley (higher difficulty): the columns nearly depend on each
// other (condition number about 5e9), normal equations would lose half of the figures. Certified values, from memory,
// confirmed in exact rational arithmetic.
test('NIST StRD Longley: seven coefficients of a badly conditioned regression', () => {
  const { rows, b, residual_sd } = reference.nist_longley;
  const design = Float64Array.from(rows.flatMap(([, ...x]) => [1, ...x]));
  const fit = leastSquares(
    design,
    7,
    Float64Array.from(rows, ([y]) => y!),
  );
  b.forEach((certified, k) => expect(figures(fit.solution[k]!, certified)).toBeGreaterThan(8));
  expect(figures(fit.unitSigma, residual_sd)).toBeGreaterThan(10);
});

// Twelve synthetic wall points; scipy's lstsq (computed with an independent library).
test('least-squares plane through twelve wall points equals the one of scipy lstsq', () => {
  const places = reference.points.map(([x, y], k) => ({
    along: x! * 1000,
    up: y! * 1000,
    out: reference.z[k]!,
  }));
  const plane = fitPlane(places);
  const [p, q, r] = reference.plane_wall12.lsq;
  expect(plane.p).toBeCloseTo(p!, 9);
  expect(plane.q * 1000).toBeCloseTo(q!, 9);
  expect(plane.r * 1000).toBeCloseTo(r!, 9);
  places.forEach(({ along, up, out }, k) =>
    expect(out - evaluatePlane(plane, along, up)).toBeCloseTo(reference.plane_wall12.residuals[k]!, 8),
  );
});
