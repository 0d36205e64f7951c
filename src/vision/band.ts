import type { LaserColour, LineAxis } from '../core/survey.ts';
import type { LineBand } from '../core/line/lineBand.ts';
import { readLaserOff, subtractLevel } from './laserOff.ts';
import type { Picture } from './picture.ts';

/** sRGB value 0..255 to linear light 0..255 (IEC 61966-2-1). */
const LINEAR = Float32Array.from({ length: 256 }, (_, value) => {
  const c = value / 255;
  return 255 * (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
});

/**
 * Weight of red in the light that a line is placed by: luminance (ITU-R BT.709) has the picture's full sharpness but little
 * of a red laser, so that for one red counts more (0.65 more was best on made photographs; green is most of luminance).
 */
const redWeight = (colour: LaserColour): number => (colour === 'red' ? 0.8626 : 0.2126);

/** The same of a value between two whole ones. */
function linearOf(value: number): number {
  const below = Math.min(254, Math.floor(value));
  return LINEAR[below]! + (value - below) * (LINEAR[below + 1]! - LINEAR[below]!);
}

/**
 * Where the band lies: at the along-coordinates from, from + step, ..., with the line's expected
 * across-coordinate at each, px.
 */
export interface BandCourse {
  readonly axis: LineAxis;
  readonly from: number;
  readonly step: number;
  readonly centre: Float64Array;
}

/**
 * Full-size pixels within `reach` of a course, straightened to whole pixels: the only place they are looked
 * at one by one. Less the picture with the laser off, where there is one.
 */
export function cutBand(picture: Picture, course: BandCourse, reach: number, colour: LaserColour): LineBand {
  const red = redWeight(colour);
  const { widthPx, heightPx, rgba } = picture;
  const level = course.axis === 'level';
  const acrossCount = level ? heightPx : widthPx;
  const [alongStep, acrossStep] = level ? [4, widthPx * 4] : [widthPx * 4, 4];
  const columns = course.centre.length;
  const rows = 2 * reach + 1;
  const top = new Int32Array(columns);
  const light = new Float32Array(columns * rows);
  const own = new Float32Array(columns * rows);
  const otherLight = new Float32Array(columns * rows);
  const channels = [0, 1, 2].map(() => new Uint8Array(columns * rows)) as [
    Uint8Array,
    Uint8Array,
    Uint8Array,
  ];
  const [main, other] = colour === 'red' ? [0, 1] : [1, 0];
  for (let x = 0; x < columns; x++) {
    const first = Math.round(course.centre[x]!) - reach;
    top[x] = first;
    const base = (course.from + x * course.step) * alongStep;
    for (let j = 0, i = x * rows; j < rows; j++, i++) {
      const across = Math.min(acrossCount - 1, Math.max(0, first + j));
      const k = base + across * acrossStep;
      light[i] = red * LINEAR[rgba[k]!]! + 0.7152 * LINEAR[rgba[k + 1]!]! + 0.0722 * LINEAR[rgba[k + 2]!]!;
      own[i] = LINEAR[rgba[k + main]!]!;
      otherLight[i] = LINEAR[rgba[k + other]!]!;
      channels[0][i] = rgba[k + main]!;
      channels[1][i] = rgba[k + other]!;
      channels[2][i] = rgba[k + 2]!;
    }
  }
  const band = { columns, rows, top, light, own, other: otherLight, channels };
  subtractBand(band, picture, course, colour);
  return band;
}

/** Takes what is to be seen without the laser off a band, in place; what the laser clips stays so. */
function subtractBand(band: LineBand, { laserOff }: Picture, course: BandCourse, colour: LaserColour): void {
  if (!laserOff) return;
  const { columns, rows, top, light, own, other, channels } = band;
  const order = colour === 'red' ? [0, 1, 2] : [1, 0, 2];
  const without = new Float64Array(3);
  for (let x = 0; x < columns; x++) {
    const along = course.from + x * course.step;
    for (let j = 0, i = x * rows; j < rows; j++, i++) {
      const across = top[x]! + j;
      if (course.axis === 'level') readLaserOff(laserOff, 1, along, across, without);
      else readLaserOff(laserOff, 1, across, along, without);
      const [red, green, blue] = [linearOf(without[0]!), linearOf(without[1]!), linearOf(without[2]!)];
      light[i]! -= redWeight(colour) * red + 0.7152 * green + 0.0722 * blue;
      const clipped = subtractLevel(channels[0][i]!, without[order[0]!]!) === channels[0][i];
      if (!clipped) own[i]! -= colour === 'red' ? red : green;
      other[i]! -= colour === 'red' ? green : red;
      for (let c = 0; c < 3; c++) {
        const level = Math.round(subtractLevel(channels[c]![i]!, without[order[c]!]!));
        channels[c]![i] = Math.min(255, Math.max(0, level));
      }
    }
  }
}
