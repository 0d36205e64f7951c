/** How lengths are shown; inside everything is mm. */
export type Units = 'mm' | 'inch';

export const MM_PER_INCH = 25.4;

/** A fraction of an inch to 1/`denominator`, reduced: "1 3/4", "-5/8", "0". */
function writeInches(lengthMm: number, denominator: number): string {
  const parts = Math.round((Math.abs(lengthMm) / MM_PER_INCH) * denominator);
  const whole = Math.floor(parts / denominator);
  let top = parts % denominator;
  let bottom = denominator;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  const fraction = top > 0 ? `${top}/${bottom}` : '';
  const text = [whole > 0 || fraction === '' ? String(whole) : '', fraction]
    .filter((part) => part !== '')
    .join(' ');
  return lengthMm < 0 && parts > 0 ? `-${text}` : text;
}

/**
 * A length without its unit: mm to a multiple of `toMm`, inches to a 32nd where `toMm` is below 1, else to a 16th.
 * @example writeLength(17.3, 'mm', 0.5) // '17.5'
 * @example writeLength(-0.1, 'mm', 0.5) // '0'
 * @example writeLength(44.45, 'inch', 1) // '1 3/4'
 */
export function writeLength(lengthMm: number, units: Units, toMm: number): string {
  if (!Number.isFinite(lengthMm)) return '-';
  if (units === 'inch') return writeInches(lengthMm, toMm < 1 ? 32 : 16);
  const rounded = Math.round(lengthMm / toMm) * toMm;
  const digits = Math.max(0, Math.ceil(-Math.log10(toMm) - 1e-9));
  return String(Number(rounded.toFixed(digits)) || 0);
}

/**
 * A length with its unit.
 * @example formatLength(52.43, 'mm', 0.1) // '52.4 mm'
 * @example formatLength(304.8, 'inch', 1) // '12 in'
 */
export function formatLength(lengthMm: number, units: Units, toMm: number): string {
  return `${writeLength(lengthMm, units, toMm)} ${units === 'inch' ? 'in' : 'mm'}`;
}
