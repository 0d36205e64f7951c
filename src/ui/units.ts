/** Lengths as the user reads and types them. Inside everything is mm; inches are fractions to a sixteenth. */
export type Units = 'mm' | 'inch';

const MM_PER_INCH = 25.4;
const MINUS = '−';

function inchText(lengthMm: number): string {
  const sixteenths = Math.round((Math.abs(lengthMm) / MM_PER_INCH) * 16);
  const whole = Math.floor(sixteenths / 16);
  let numerator = sixteenths % 16;
  let denominator = 16;
  while (numerator > 0 && numerator % 2 === 0) {
    numerator /= 2;
    denominator /= 2;
  }
  const fraction = numerator === 0 ? '' : `${numerator}/${denominator}`;
  const text =
    whole === 0 && fraction !== '' ? fraction : [String(whole), fraction].filter(Boolean).join(' ');
  return lengthMm < 0 && sixteenths > 0 ? `${MINUS}${text}` : text;
}

/**
 * A length without its unit, for a field or a table cell.
 * @example lengthText(61.5, 'mm') // '61.5'
 * @example lengthText(304.8, 'inch') // '12'
 */
export function lengthText(lengthMm: number, units: Units, digits = 1): string {
  if (!Number.isFinite(lengthMm)) return '–';
  if (units === 'inch') return inchText(lengthMm);
  return String(Number(lengthMm.toFixed(digits))).replace('-', MINUS);
}

/**
 * A length with its unit.
 * @example formatLength(-3.04, 'mm') // '−3 mm'
 * @example formatLength(44.45, 'inch') // '1 3/4 in'
 */
export function formatLength(lengthMm: number, units: Units, digits = 1): string {
  return `${lengthText(lengthMm, units, digits)} ${units === 'inch' ? 'in' : 'mm'}`;
}

/**
 * A measured length with its uncertainty (one standard deviation), which stays in mm when units are mm.
 * @example formatMeasured(61.52, 0.74, 'mm') // '61.5 ± 0.7 mm'
 */
export function formatMeasured(lengthMm: number, sigmaMm: number, units: Units): string {
  if (units === 'inch') return `${inchText(lengthMm)} ± ${(sigmaMm / MM_PER_INCH).toFixed(2)} in`;
  return `${lengthMm.toFixed(1).replace('-', MINUS)} ± ${sigmaMm.toFixed(1)} mm`;
}

const UNIT_MM: Record<string, number> = { mm: 1, cm: 10, m: 1000, in: MM_PER_INCH, '"': MM_PER_INCH };

/**
 * The length in mm of what was typed: a decimal point or comma, a fraction, a unit if it is not the usual one.
 * NaN when it is no length.
 * @example parseLength('2,45 m', 'mm') // 2450
 * @example parseLength('1 3/4', 'inch') // 44.45
 */
export function parseLength(text: string, units: Units): number {
  const match = /^([-−+]?)(?:(\d+(?:[.,]\d+)?|[.,]\d+))?(?:\s*(\d+)\/(\d+))?\s*(mm|cm|m|in|")?$/i.exec(
    text.trim(),
  );
  if (!match) return NaN;
  const [, sign, decimal, numerator, denominator, unit] = match;
  if (decimal === undefined && numerator === undefined) return NaN;
  // "3/4": the greedy whole number would otherwise swallow the numerator
  const whole = decimal === undefined ? 0 : Number(decimal.replace(',', '.'));
  const part = numerator === undefined ? 0 : Number(numerator) / Number(denominator);
  const scale = unit === undefined ? (units === 'inch' ? MM_PER_INCH : 1) : UNIT_MM[unit.toLowerCase()]!;
  const lengthMm = (whole + part) * scale;
  return Number.isFinite(lengthMm) ? (sign === '-' || sign === MINUS ? -lengthMm : lengthMm) : NaN;
}
