import type { Lens } from '../../core/survey.ts';

/**
 * What is known of a lens, as it is written everywhere.
 * @example lensWords({ k1: -0.0061, sigma: 0.0004 }) // 'k1 −0.0061 ± 0.0004'
 * @example lensWords({ k1: null, sigma: 0.01 }) // 'k1 not known (0 ± 0.0100)'
 */
export function lensWords({ k1, sigma }: Pick<Lens, 'k1' | 'sigma'>): string {
  if (k1 === null) return `k1 not known (0 ± ${sigma.toFixed(4)})`;
  return `k1 ${k1.toFixed(4).replace('-', '−')} ± ${sigma.toFixed(4)}`;
}
