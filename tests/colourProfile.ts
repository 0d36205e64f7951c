// Colours of pictures decoded in Node: a browser turns them into sRGB by itself.
import { inflateSync } from 'node:zlib';
import { listSegments, startsWith } from '../src/file/jpeg.ts';
import { listChunks } from '../src/file/png.ts';
import type { Picture } from '../src/vision/picture.ts';

const MARK = 'ICC_PROFILE\0';

/** The ICC profile that stands in a JPEG (ICC.1:2010, annex B.4) or PNG (iCCP); null when there is none that can be read. */
export function readProfile(bytes: Uint8Array): Uint8Array | null {
  const parts = (listSegments(bytes) ?? [])
    .filter(({ marker, payload }) => marker === 0xe2 && startsWith(bytes, payload, MARK))
    .map(({ payload, end }) => ({
      number: bytes[payload + MARK.length]!,
      part: bytes.subarray(payload + MARK.length + 2, end),
    }))
    .sort((a, b) => a.number - b.number);
  if (parts.length > 0) return Buffer.concat(parts.map(({ part }) => part));
  const chunk = listChunks(bytes)?.find(({ name }) => name === 'iCCP');
  if (!chunk) return null;
  const name = bytes.indexOf(0, chunk.content);
  try {
    return inflateSync(bytes.subarray(name + 2, chunk.end - 4));
  } catch {
    return null;
  }
}

type Matrix = readonly (readonly [number, number, number])[];

/** What a matrix profile says: linear light of every level, and linear light to XYZ under D50, a row per X, Y, Z. */
interface MatrixProfile {
  readonly linear: readonly Float64Array[];
  readonly xyz: Matrix;
}

function parseProfile(profile: Uint8Array): MatrixProfile | null {
  const view = new DataView(profile.buffer, profile.byteOffset, profile.byteLength);
  const find = (tag: string): number | null => {
    for (let k = 0; k < view.getUint32(128); k++)
      if (startsWith(profile, 132 + 12 * k, tag)) return view.getUint32(132 + 12 * k + 4);
    return null;
  };
  const fixed = (at: number) => view.getInt32(at) / 65536;
  try {
    if (!startsWith(profile, 16, 'RGB ') || !startsWith(profile, 20, 'XYZ ')) return null;
    const columns = ['rXYZ', 'gXYZ', 'bXYZ'].map((tag) => {
      const at = find(tag)!;
      return [fixed(at + 8), fixed(at + 12), fixed(at + 16)];
    });
    const linear = ['rTRC', 'gTRC', 'bTRC'].map((tag) => {
      const curve = readCurve(view, profile, find(tag)!, fixed);
      return Float64Array.from({ length: 256 }, (_, level) => curve(level / 255));
    });
    const xyz = [0, 1, 2].map((row) => columns.map((column) => column[row]!) as [number, number, number]);
    return { linear, xyz };
  } catch {
    return null;
  }
}

/** A tone curve: a table (10.5) or a function (10.15 of ICC.1:2010). */
function readCurve(view: DataView, profile: Uint8Array, at: number, fixed: (at: number) => number) {
  if (startsWith(profile, at, 'curv')) {
    const count = view.getUint32(at + 8);
    if (count === 0) return (x: number) => x;
    if (count === 1) return (x: number) => x ** (view.getUint16(at + 12) / 256);
    const entry = (k: number) => view.getUint16(at + 12 + 2 * Math.min(k, count - 1)) / 65535;
    return (x: number) => {
      const place = x * (count - 1);
      const whole = Math.floor(place);
      return entry(whole) + (place - whole) * (entry(whole + 1) - entry(whole));
    };
  }
  const kind = view.getUint16(at + 8);
  const [g, a = 1, b = 0, c = 0, d = 0, e = 0, f = 0] = Array.from(
    { length: [1, 3, 4, 5, 7][kind]! },
    (_, k) => fixed(at + 12 + 4 * k),
  ) as [number, ...number[]];
  const upper = (x: number) => (a * x + b) ** g;
  if (kind === 0) return (x: number) => x ** g;
  if (kind < 3) return (x: number) => (x >= -b / a ? upper(x) : 0) + (kind === 2 ? c : 0);
  return (x: number) => (x >= d ? upper(x) + e : c * x + f);
}

/** XYZ under D50 to linear sRGB (B. Lindbloom's table of RGB matrices, Bradford-adapted; from memory). */
const SRGB_FROM_XYZ: Matrix = [
  [3.1338561, -1.6168667, -0.4906146],
  [-0.9787684, 1.9161415, 0.033454],
  [0.0719453, -0.2289914, 1.4052427],
];
/** Colours that a profile would move by less than this in linear light are sRGB already. */
const ALIKE = 0.01;
const STEPS = 4095;
const encode = (light: number) =>
  255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);
const decode = (level: number) =>
  level <= 10.31 ? level / 255 / 12.92 : ((level / 255 + 0.055) / 1.055) ** 2.4;

/** Turns a picture's pixels into sRGB by its file's profile, in place; does nothing where it is sRGB already or none. */
export function toSrgb(picture: Picture, bytes: Uint8Array): void {
  const profile = readProfile(bytes);
  const parsed = profile && parseProfile(profile);
  if (!parsed) return;
  const { linear, xyz } = parsed;
  const m = SRGB_FROM_XYZ.map((row) =>
    [0, 1, 2].map((column) => row.reduce((sum, value, k) => sum + value * xyz[k]![column]!, 0)),
  );
  const sameColours = m.every((row, i) =>
    row.every((value, j) => Math.abs(value - (i === j ? 1 : 0)) < ALIKE),
  );
  if (sameColours && linear.every((curve) => Math.abs(curve[128]! - decode(128)) < ALIKE)) return;
  const levels = Uint8Array.from({ length: STEPS + 1 }, (_, k) => Math.round(encode(k / STEPS)));
  const { rgba } = picture;
  for (let k = 0; k < rgba.length; k += 4) {
    const [r, g, b] = [linear[0]![rgba[k]!]!, linear[1]![rgba[k + 1]!]!, linear[2]![rgba[k + 2]!]!];
    for (let c = 0; c < 3; c++) {
      const row = m[c]!;
      const light = row[0]! * r + row[1]! * g + row[2]! * b;
      rgba[k + c] = levels[Math.round(Math.min(1, Math.max(0, light)) * STEPS)]!;
    }
  }
}
