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

/** Units as they are typed, longest name first; each with its system, since 5 ft 10 cm is a slip. */
const typedUnits: readonly (readonly [names: string, mm: number, system: 'metric' | 'inch'])[] = [
  ['mm', 1, 'metric'],
  ['cm', 10, 'metric'],
  ['m', 1000, 'metric'],
  ['inches|inch|in|"', MM_PER_INCH, 'inch'],
  ["feet|foot|ft|'", 12 * MM_PER_INCH, 'inch'],
];

const fractions: Readonly<Record<string, string>> = {
  '¼': '1/4',
  '½': '1/2',
  '¾': '3/4',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** One number with its unit: a whole number with a fraction, a fraction, or a decimal. */
const TERM = new RegExp(
  String.raw`(?:(?:(\d+)(?:\s+|\s*-\s*))?(\d+)/(\d+)|(\d+(?:[.,]\d+)?|[.,]\d+))\s*(?:(${typedUnits
    .map(([names]) => names)
    .join('|')})\.?)?`,
  'iy',
);

/** Quotes, primes, dashes, spaces and fractions of every keyboard as the plain ones. */
const makePlain = (text: string): string =>
  text
    .replace(/[¼½¾⅓⅔⅛⅜⅝⅞]/g, (one) => ` ${fractions[one]!}`)
    .replace(/[″“”„ʺ]|''|′′|’’/g, '"')
    .replace(/[′‘’ʹ´`]/g, "'")
    .replace(/[−–‐‑]/g, '-')
    .replace(/⁄/g, '/')
    .replace(/\s+/g, ' ')
    .trim();

interface Term {
  readonly value: number;
  /** Whether it has neither fraction nor decimals. */
  readonly whole: boolean;
  readonly unit: (typeof typedUnits)[number] | null;
}

function readTerm(text: string, from: number): { readonly term: Term; readonly end: number } | null {
  TERM.lastIndex = from;
  const match = TERM.exec(text);
  if (!match) return null;
  const [, whole, numerator, denominator, decimal, name] = match;
  const share = numerator === undefined ? 0 : Number(numerator) / Number(denominator);
  // "61 11/2" is a slip for one of two lengths
  if (whole !== undefined && share >= 1) return null;
  const value = decimal === undefined ? Number(whole ?? 0) + share : Number(decimal.replace(',', '.'));
  const unit = typedUnits.find(([names]) => name && names.split('|').includes(name.toLowerCase())) ?? null;
  return {
    term: { value, whole: decimal !== undefined && /^\d+$/.test(decimal), unit },
    end: TERM.lastIndex,
  };
}

/** The numbers of a length, largest unit first: one, or several such as 5' 1 1/2". */
function readTerms(text: string): Term[] | null {
  const terms: Term[] = [];
  for (let at = 0; at < text.length;) {
    const read = readTerm(text, at);
    if (!read) return null;
    terms.push(read.term);
    at = read.end;
    // a space, a hyphen or a comma before the next number
    at += /^ ?[-,]? ?(?=[\d.,])/.exec(text.slice(at))?.[0].length ?? 0;
  }
  return terms.length > 0 ? terms : null;
}

/** What one term adds, mm; NaN where it does not go with the one before. */
function lengthOfTerm({ value, unit }: Term, before: Term | undefined, usual: Units): number {
  if (!before) return value * (unit?.[1] ?? (usual === 'inch' ? MM_PER_INCH : 1));
  const scale = unit?.[1] ?? MM_PER_INCH;
  const system = unit?.[2] ?? 'inch';
  if (!before.unit || !before.whole || before.unit[2] !== system) return NaN;
  return value * scale < before.unit[1] ? value * scale : NaN;
}

/**
 * The length in mm of what was typed: a decimal point or comma, a fraction, feet and inches, a unit if it is not the usual one.
 * NaN when it is no length. The inch is 25.4 mm exactly (NIST Handbook 44, Appendix C).
 * @example parseLength('2,45 m', 'mm') // 2450
 * @example parseLength('1 3/4', 'inch') // 44.45
 * @example parseLength('5′ 1½″', 'mm') // 1562.1
 */
export function parseLength(text: string, units: Units): number {
  const plain = makePlain(text);
  const [, sign, rest] = /^([-+]? ?)(.*)$/.exec(plain)!;
  const terms = readTerms(rest!);
  if (!terms) return NaN;
  const parts = terms.map((term, k) => lengthOfTerm(term, terms[k - 1], units));
  const lengthMm = parts.reduce((sum, part) => sum + part, 0);
  if (!Number.isFinite(lengthMm)) return NaN;
  // the sum of binary fractions, without their last digits: 1562.1, not 1562.1000000000001
  const exactMm = Number(lengthMm.toPrecision(14));
  return sign!.startsWith('-') ? -exactMm : exactMm;
}

/**
 * A length (mm) that lies within limits, else NaN. A limit as it is shown, rounded to 0.1 mm or a sixteenth, counts as the limit.
 * @example keepWithin(2450.04, 0, 2450, 'mm') // 2450
 * @example keepWithin(2451, 0, 2450, 'mm') // NaN
 */
export function keepWithin(lengthMm: number, leastMm: number, mostMm: number, units: Units): number {
  const roundedMm = units === 'inch' ? MM_PER_INCH / 32 : 0.05;
  if (lengthMm < leastMm - roundedMm || lengthMm > mostMm + roundedMm) return NaN;
  return Math.max(leastMm, Math.min(mostMm, lengthMm));
}
