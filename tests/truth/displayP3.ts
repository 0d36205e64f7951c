// Display P3 made from its published figures: primaries of SMPTE EG 432-1, white of ITU-R BT.709 (D65), tone curve of
// IEC 61966-2-1; adapted to D50 by the Bradford matrix (ICC.1:2010, annex E). The figures are from memory.
import type { Picture } from '../../src/vision/picture.ts';

type Vector = readonly [number, number, number];
type Matrix = readonly [Vector, Vector, Vector];

const times = (m: Matrix, v: Vector) =>
  m.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]) as unknown as Vector;
const transpose = (m: Matrix) => [0, 1, 2].map((i) => m.map((row) => row[i]!)) as unknown as Matrix;
const product = (a: Matrix, b: Matrix) =>
  transpose(transpose(b).map((column) => times(a, column)) as unknown as Matrix);
function inverse([a, b, c]: Matrix): Matrix {
  const cross = (p: Vector, q: Vector): Vector => [
    p[1] * q[2] - p[2] * q[1],
    p[2] * q[0] - p[0] * q[2],
    p[0] * q[1] - p[1] * q[0],
  ];
  const columns = [cross(b, c), cross(c, a), cross(a, b)];
  const volume = a[0] * columns[0]![0] + a[1] * columns[0]![1] + a[2] * columns[0]![2];
  return transpose(columns.map((column) => column.map((x) => x / volume)) as unknown as Matrix);
}

const fromXy = (x: number, y: number): Vector => [x / y, 1, (1 - x - y) / y];
const D65 = fromXy(0.3127, 0.329);
const D50: Vector = [0.9642, 1, 0.8249];
const BRADFORD: Matrix = [
  [0.8951, 0.2664, -0.1614],
  [-0.7502, 1.7135, 0.0367],
  [0.0389, -0.0685, 1.0296],
];

/** Linear RGB of primaries (x, y) to XYZ under D65. */
function xyzFromRgb(primaries: readonly (readonly [number, number])[]): Matrix {
  const columns = transpose(primaries.map(([x, y]) => fromXy(x, y)) as unknown as Matrix);
  const light = times(inverse(columns), D65);
  return columns.map((row) => row.map((x, i) => x * light[i]!)) as unknown as Matrix;
}

const P3 = xyzFromRgb([[0.68, 0.32], [0.265, 0.69], [0.15, 0.06]]); // prettier-ignore
const SRGB = xyzFromRgb([[0.64, 0.33], [0.3, 0.6], [0.15, 0.06]]); // prettier-ignore

const toLight = (level: number) => {
  const c = level / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
};
const toLevel = (light: number) =>
  255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);

/** The same colours in Display P3's levels. */
export function toDisplayP3({ widthPx, heightPx, rgba }: Picture): Picture {
  const m = product(inverse(P3), SRGB);
  const light = Float64Array.from({ length: 256 }, (_, level) => toLight(level));
  const p3 = new Uint8ClampedArray(rgba);
  for (let k = 0; k < p3.length; k += 4) {
    const seen = times(m, [light[rgba[k]!]!, light[rgba[k + 1]!]!, light[rgba[k + 2]!]!]);
    seen.forEach((value, c) => (p3[k + c] = toLevel(Math.min(1, Math.max(0, value)))));
  }
  return { widthPx, heightPx, rgba: p3 };
}

/** Display P3's colorants as its profile holds them: XYZ under D50, a column per primary. */
export function displayP3Colorants(): Matrix {
  const cone = (white: Vector) => times(BRADFORD, white);
  const [from, to] = [cone(D65), cone(D50)];
  const gain = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => (i === j ? to[i]! / from[i]! : 0)),
  ) as unknown as Matrix;
  return product(product(product(inverse(BRADFORD), gain), BRADFORD), P3);
}

/** A minimal ICC profile (version 4, matrix and curves) of Display P3. Source: ICC.1:2010, clauses 7 and 10. */
export function writeDisplayP3Profile(): Uint8Array {
  const text = (letters: string) => [...letters].map((letter) => letter.charCodeAt(0));
  const word = (value: number) => [value >>> 24, (value >>> 16) & 255, (value >>> 8) & 255, value & 255];
  const fixed = (value: number) => word(Math.round(value * 65536) >>> 0);
  const xyz = (v: Vector) => [...text('XYZ '), ...word(0), ...v.flatMap(fixed)];
  const unicode = (words: string) => {
    const letters = text(words).flatMap((code) => [0, code]);
    return [
      ...text('mluc'),
      ...word(0),
      ...word(1),
      ...word(12),
      ...text('enUS'),
      ...word(letters.length),
      ...word(28),
      ...letters,
    ];
  };
  const curve = [
    ...text('para'),
    ...word(0),
    0,
    3,
    0,
    0,
    ...[2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045].flatMap(fixed),
  ];
  const [red, green, blue] = transpose(displayP3Colorants());
  const tags: [string, number[]][] = [
    ['desc', unicode('Display P3')],
    ['cprt', unicode('none')],
    ['wtpt', xyz(D50)],
    ['rXYZ', xyz(red)],
    ['gXYZ', xyz(green)],
    ['bXYZ', xyz(blue)],
    ['rTRC', curve],
    ['gTRC', curve],
    ['bTRC', curve],
  ];
  const body: number[] = [];
  const table = tags.flatMap(([name, content]) => {
    const at = 132 + 12 * tags.length + body.length;
    body.push(...content, ...Array<number>((4 - (content.length % 4)) % 4).fill(0));
    return [...text(name), ...word(at), ...word(content.length)];
  });
  const size = 132 + table.length + body.length;
  const header = [
    ...word(size), ...word(0), 4, 0x20, 0, 0, ...text('mntr'), ...text('RGB '), ...text('XYZ '),
    ...[2024, 1, 1, 0, 0, 0].flatMap((value) => [value >> 8, value & 255]), ...text('acsp'),
    ...Array<number>(28).fill(0), ...D50.flatMap(fixed), ...Array<number>(48).fill(0),
  ]; // prettier-ignore
  return Uint8Array.from([...header, ...word(tags.length), ...table, ...body]);
}

/** A JPEG with a colour profile put in after its first segment marker. */
export function putProfile(jpeg: Uint8Array, profile: Uint8Array): Uint8Array {
  const content = [...[...'ICC_PROFILE\0'].map((letter) => letter.charCodeAt(0)), 1, 1, ...profile];
  const length = content.length + 2;
  // behind the EXIF segment, which wants to be first
  const at = 4 + 256 * jpeg[4]! + jpeg[5]!;
  return Uint8Array.from([
    ...jpeg.subarray(0, at),
    0xff,
    0xe2,
    length >> 8,
    length & 255,
    ...content,
    ...jpeg.subarray(at),
  ]);
}
