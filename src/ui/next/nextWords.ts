import type { NextAdvice, NextMeasure } from '../../core/results.ts';
import { formatLength, type Units } from '../units.ts';

/**
 * An area, as fine as it is told for a decision.
 * @example formatArea(0.823) // '0.82 m²'
 * @example formatArea(12.04) // '12.0 m²'
 */
export function formatArea(areaM2: number): string {
  return `${areaM2.toFixed(areaM2 < 1 ? 2 : 1)} m²`;
}

/**
 * Where a measurement is to be made, in words.
 * @example sayMeasure({ kind: 'level', along: 1800, up: 1550, stretch: { from: 0, to: 3600 }, doubtfulM2After: 0.4, sigmaRmsAfterMm: 1 }, 3600, 'mm') // 'A level line 1550 mm above the floor'
 */
export function sayMeasure(
  { kind, along, up, stretch }: NextMeasure,
  lengthMm: number,
  units: Units,
): string {
  const say = (mm: number) => formatLength(mm, units, 0);
  if (kind === 'reading') return `A rule reading ${say(along)} from the left end, ${say(up)} above the floor`;
  const where =
    kind === 'level'
      ? `A level line ${say(up)} above the floor`
      : `A plumb line ${say(along)} from the left end`;
  if (!stretch || stretch.to - stretch.from > WHOLE * lengthMm) return where;
  const from = kind === 'level' ? 'along' : 'up';
  return `${where}, photographed from ${say(stretch.from)} to ${say(stretch.to)} ${from}`;
}

/** A stretch of more than this share of the wall is all of it. */
const WHOLE = 0.9;

/** What a measurement would bring: "would halve the doubtful area: 0.8 m² to 0.4 m²". */
export function sayGain(next: NextAdvice, measure: NextMeasure): string {
  const { aim, doubtfulM2, sigmaRmsMm } = next;
  if (aim === 'sigma')
    return `would make the whole wall better known: from ±${sigmaRmsMm.toFixed(1)} mm to ±${measure.sigmaRmsAfterMm.toFixed(1)} mm`;
  const left = measure.doubtfulM2After / doubtfulM2;
  const does =
    Math.abs(left - 0.5) < 0.05
      ? 'halve the doubtful area'
      : `take ${Math.round(100 * (1 - left))} % off the doubtful area`;
  return `would ${does}: ${formatArea(doubtfulM2)} to ${formatArea(measure.doubtfulM2After)}`;
}

/** What doubtful means, with how much of the wall it is. */
export function sayDoubt({ doubtfulM2, linedM2 }: NextAdvice): string {
  return `Of ${formatArea(linedM2)} of wall, ${formatArea(doubtfulM2)} may be judged wrongly: taken for adhesive alone where it needs packing, or the other way round, or for thick enough where it is not.`;
}

/** Why nothing more is worth measuring. */
export function sayEnough({ aim, doubtfulM2, linedM2, sigmaRmsMm }: NextAdvice): string {
  const known = `The wall is known to ±${sigmaRmsMm.toFixed(1)} mm, and ${formatArea(doubtfulM2)} of ${formatArea(linedM2)} is in doubt.`;
  return aim === 'sigma'
    ? `Enough is measured. ${known}`
    : `${known} What is left lies close to a limit: no single line or reading would settle much of it.`;
}
