import { factorDense, invertDense } from '../solve/dense.ts';
import type { JointRow, JointWall } from './jointWall.ts';

/**
 * By how much (mm2) measurements still to be made would lower the variance of the offset at each node: exact for the Gaussian model,
 * their own unknowns (`ownCount`, held by the rows that name nothing else) integrated out.
 * Source: conditional covariance of a Gaussian, Rasmussen & Williams 2006, eq. A.6; own unknowns as random effects, eq. 2.40.
 */
export function findReductions(joint: JointWall, rows: readonly JointRow[], ownCount: number): Float64Array {
  const { nodes, order, covariance } = joint;
  const told = rows.filter(({ at }) => at.length > 0);
  const prior = spreadOwn(
    rows.filter(({ at }) => at.length === 0),
    ownCount,
  );
  const count = told.length;
  // covariance of each row's value with every node and lens
  const across = told.map(({ at, factors }) => {
    const sums = new Float64Array(order);
    at.forEach((from, k) => {
      const factor = factors[k]!;
      const start = from * order;
      for (let node = 0; node < order; node++) sums[node]! += factor * covariance[start + node]!;
    });
    return sums;
  });
  const matrix = new Float64Array(count * count);
  told.forEach((row, i) => {
    const spread = multiplyOwn(prior, row, ownCount);
    for (let j = 0; j <= i; j++) {
      const other = told[j]!;
      let value = i === j ? row.sigma ** 2 : 0;
      other.at.forEach((node, k) => (value += other.factors[k]! * across[i]![node]!));
      other.own.forEach((q, k) => (value += other.ownFactors[k]! * spread[q]!));
      matrix[i * count + j] = value;
    }
  });
  factorDense(matrix, count);
  const reductions = new Float64Array(nodes);
  for (let i = 0; i < count; i++) {
    const own = across[i]!;
    for (let j = 0; j < i; j++) {
      const factor = matrix[i * count + j]!;
      const other = across[j]!;
      for (let node = 0; node < nodes; node++) own[node]! -= factor * other[node]!;
    }
    const pivot = matrix[i * count + i]!;
    for (let node = 0; node < nodes; node++) {
      const share = own[node]! / pivot;
      own[node] = share;
      reductions[node]! += share * share;
    }
  }
  return reductions;
}

/** Covariance of the own unknowns from the rows that speak of them alone. */
function spreadOwn(rows: readonly JointRow[], ownCount: number): Float64Array {
  const information = new Float64Array(ownCount * ownCount);
  for (const { own, ownFactors, sigma } of rows)
    own.forEach((q, a) =>
      own.forEach((p, b) => {
        information[q * ownCount + p]! += (ownFactors[a]! * ownFactors[b]!) / sigma ** 2;
      }),
    );
  return invertDense(factorDense(information, ownCount), ownCount);
}

function multiplyOwn(prior: Float64Array, { own, ownFactors }: JointRow, ownCount: number): Float64Array {
  const product = new Float64Array(ownCount);
  own.forEach((q, k) => {
    for (let p = 0; p < ownCount; p++) product[p]! += ownFactors[k]! * prior[q * ownCount + p]!;
  });
  return product;
}
