import { describe, expect, test } from 'vitest';
import { covariances, krige, type KrigingTask } from '../truth/denseKriging.ts';
import reference from './kriging.json' with { type: 'json' };

const { wall12, isaaks_srivastava_7: seven, isaaks_srivastava_7_more: more } = reference;
const ordinary = () => [1];
const linear = ([x, y]: readonly number[]) => [1, x!, y!];

function checkWall(
  name: keyof typeof wall12.models,
  errorVariance: number,
  model: Pick<KrigingTask, 'covariance' | 'trend'>,
) {
  const { pred, var_of_signal } = wall12.models[name];
  const sigmas = wall12.points.map(() => Math.sqrt(errorVariance));
  krige({ points: wall12.points, values: wall12.z, sigmas, ...model }, wall12.query).forEach((found, k) => {
    expect(found.estimate).toBeCloseTo(pred[k]!, 9);
    expect(found.variance).toBeCloseTo(var_of_signal[k]!, 9);
  });
}

// Twelve synthetic wall points, six places, two of them measured. Values: gstat 2.1.0 (R), an independent numpy program agrees.
describe('exact kriging of twelve wall points as gstat', () => {
  test('ordinary, exponential, no measurement error: reproduces what was measured', () =>
    checkWall('ok_exp_16_1.2', 0, { covariance: covariances.exponential(16, 1.2), trend: ordinary }));
  test('ordinary, spherical, measurement error', () =>
    checkWall('ok_sph_16_2.5_err0.25', 0.25, {
      covariance: covariances.spherical(16, 2.5),
      trend: ordinary,
    }));
  test('universal with a linear trend, spherical, measurement error', () =>
    checkWall('uk_sph_16_2.5_err0.25', 0.25, { covariance: covariances.spherical(16, 2.5), trend: linear }));
  test('ordinary, Matern 3/2, measurement error', () =>
    checkWall('ok_mat32_16_0.8_err0.25', 0.25, {
      covariance: covariances.matern32(16, 0.8),
      trend: ordinary,
    }));
  test('ordinary, Gaussian, measurement error', () =>
    checkWall('ok_gau_16_1.0_err0.25', 0.25, { covariance: covariances.gaussian(16, 1), trend: ordinary }));
  test('each point from the eleven others: mean and root mean square of the errors', () => {
    const errors = wall12.points.map((place, left) => {
      const others = wall12.points.flatMap((_, k) => (k === left ? [] : [k]));
      const [found] = krige(
        {
          points: others.map((k) => wall12.points[k]!),
          values: others.map((k) => wall12.z[k]!),
          sigmas: others.map(() => 0.5),
          covariance: covariances.spherical(16, 2.5),
          trend: ordinary,
        },
        [place],
      );
      return wall12.z[left]! - found!.estimate;
    });
    const { me, rmse } = reference['leave_one_out_sph_16_2.5_err0.25'];
    expect(errors.reduce((sum, e) => sum + e, 0) / 12).toBeCloseTo(me, 6);
    expect(Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / 12)).toBeCloseTo(rmse, 6);
  });
});

// Isaaks & Srivastava 1989, An Introduction to Applied Geostatistics, ch. 12: published weights, estimate and variance (from
// memory); all further figures by gstat 2.1.0.
describe('exact kriging of the seven samples of Isaaks & Srivastava', () => {
  const base = { points: seven.points, values: seven.z, sigmas: seven.z.map(() => 0), trend: ordinary };
  const solve = (task: KrigingTask) => krige(task, [seven.query])[0]!;
  const check = (
    { estimate, variance }: { estimate: number; variance: number },
    known: readonly number[],
  ) => {
    expect(estimate).toBeCloseTo(known[0]!, 5);
    expect(variance).toBeCloseTo(known[1]!, 5);
  };
  const exponential = covariances.exponential(10, 1 / 0.3);

  test('ordinary kriging: weights, estimate and variance as published', () => {
    const found = solve({ ...base, covariance: exponential });
    seven.published.weights.forEach((weight, k) =>
      expect(Math.abs(found.weights[k]! - weight)).toBeLessThan(0.00051),
    );
    expect(Math.abs(found.estimate - seven.published.estimate)).toBeLessThan(0.051);
    expect(Math.abs(found.variance - seven.published.variance)).toBeLessThan(0.0051);
    seven.computed.weights.forEach((weight, k) => expect(found.weights[k]).toBeCloseTo(weight, 10));
    expect(found.estimate).toBeCloseTo(seven.computed.estimate, 8);
    expect(found.variance).toBeCloseTo(seven.computed.variance, 9);
  });
  test('spherical', () =>
    check(solve({ ...base, covariance: covariances.spherical(10, 10) }), more.spherical_10_range_10));
  test('nugget of half the sill, part of what is estimated', () => {
    const half = covariances.exponential(5, 1 / 0.3);
    const covariance = (h: number) => (h === 0 ? 10 : half(h));
    check(solve({ ...base, covariance }), more.nugget_5_exponential_5);
  });
  test('Gaussian', () =>
    check(solve({ ...base, covariance: covariances.gaussian(10, 10 / Math.sqrt(3)) }), more.gaussian_3));
  test('simple kriging about a known mean of 600', () =>
    check(solve({ ...base, covariance: exponential, trend: () => [], mean: 600 }), more.simple_mean_600));
  test('universal kriging with a linear trend', () =>
    check(solve({ ...base, covariance: exponential, trend: linear }), more.universal_linear));
});
