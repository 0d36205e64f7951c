import { locateBrick, type BrickSpot } from './bricks.ts';
import { makeNoise, rampBetween } from './noise.ts';
import { hashUnit } from './random.ts';
import { liesIn, noiseOfWall, type TrueWall } from './wall.ts';

/** Reflectance red, green, blue (linear light, 0 to 1). */
export type Colour = readonly [number, number, number];

/** Writes the reflectance of a place (mm) into the first three numbers of `into`. */
export type Look = (along: number, up: number, into: Float64Array) => void;

const LIMEWASH: Colour = [0.63, 0.585, 0.5];
const PATCH: Colour = [0.45, 0.405, 0.355];
const MORTAR: Colour = [0.4, 0.37, 0.32];
const BOX: Colour = [0.78, 0.78, 0.76];

/** How a wall looks: limewashed plaster with patches and bare brick, brick, or one coat of paint (`paint`). */
export function makeLook(wall: TrueWall, paint: Colour = LIMEWASH): Look {
  const { kind, seed, boxes } = wall.plan;
  const brickNoise = noiseOfWall(wall.plan);
  const noise = makeNoise(seed + 101);
  const spot: BrickSpot = { course: 0, brick: 0, face: 0, insideMm: 0 };

  const paintPlaster = (along: number, up: number, into: Float64Array): void => {
    const broad = 0.09 * noise(along / 620, up / 480) + 0.06 * noise(along / 170 + 20, up / 140);
    const fine = 0.045 * noise(along / 43, up / 37 + 60) + 0.03 * noise(along / 12, up / 11 + 5);
    const grain = 0.035 * noise(along / 4.3, up / 4.1) + 0.05 * noise(along / 1.9, up / 1.9 + 33);
    // strokes of the limewash brush, never quite parallel, stronger in places
    const bent = up + 46 * noise(along / 160, up / 170 + 21);
    const slant = along + 60 * noise(along / 140 + 12, up / 120);
    const strokes =
      0.03 *
      (noise((slant + bent) / 9, (slant - 0.7 * bent) / 120) +
        noise((slant - 1.4 * bent) / 11 + 31, bent / 90));
    const pit =
      noise((0.8 * along + 0.6 * up) / 5.1, (0.8 * up - 0.6 * along) / 4.3) +
      0.5 * noise(along / 2.3, up / 2.1);
    const pits = 0.26 * rampBetween(0.75, 1.1, pit) * rampBetween(0, 0.5, noise(along / 130, up / 150 + 44));
    let tone = (1 + broad + fine + grain + strokes * (1 + noise(along / 310, up / 240 + 8))) * (1 - pits);
    // rising damp: a darker, browner foot with a ragged edge
    const damp = rampBetween(
      60,
      -260,
      up - 330 - 170 * noise(along / 340, 4.2) - 40 * noise(along / 60, up / 60),
    );
    tone *= 1 - 0.2 * damp;
    const dirt = rampBetween(0.35, 0.95, noise(along / 260 + 50, up / 700)) * 0.1;
    tone *= 1 - dirt;
    const inPatch = wall.patchMm(along, up);
    const patched = 0.85 * rampBetween(-2, 2, inPatch);
    // hairline cracks follow the zero of a broad noise field, here and there
    const crackAt = noise(along / 760 + 3, up / 610 + 9) + 0.03 * noise(along / 35, up / 35);
    const cracked =
      rampBetween(0.0028, 0.001, Math.abs(crackAt)) * rampBetween(0, 0.3, noise(along / 500 + 70, up / 500));
    tone *= (1 - 0.5 * cracked) * (1 - 0.22 * rampBetween(5, 0, Math.abs(inPatch)));
    into[0] = tone * (LIMEWASH[0] + patched * (PATCH[0] - LIMEWASH[0])) * (1 - 0.02 * damp);
    into[1] = tone * (LIMEWASH[1] + patched * (PATCH[1] - LIMEWASH[1])) * (1 - 0.07 * damp);
    into[2] = tone * (LIMEWASH[2] + patched * (PATCH[2] - LIMEWASH[2])) * (1 - 0.14 * damp);
  };

  const paintBrick = (along: number, up: number, into: Float64Array): void => {
    locateBrick(brickNoise, along, up, spot);
    const own = hashUnit(seed + 3, spot.course, spot.brick);
    const hue = hashUnit(seed + 4, spot.course, spot.brick);
    const grain =
      1 +
      0.16 * noise(along / 5, up / 4.5) +
      0.12 * noise(along / 2.1, up / 2) +
      0.14 * noise(along / 40, up / 30);
    const burnt = hue > 0.86 ? 0.55 : 1;
    const tone = (0.78 + 0.44 * own) * grain * burnt;
    const washed =
      kind === 'plaster'
        ? 0.55 * rampBetween(0.05, 0.7, noise(along / 55 + 8, up / 38) + 0.35 * noise(along / 9, up / 9))
        : 0;
    const mortarTone = 1 + 0.14 * noise(along / 3.2, up / 3.2 + 12) + 0.15 * noise(along / 70, up / 50 + 2);
    const face = spot.face;
    const red = 0.3 + 0.05 * hue;
    const green = 0.135 + 0.045 * hue;
    const blue = 0.085 + 0.025 * hue;
    into[0] = face * tone * (red + washed * (LIMEWASH[0] - red)) + (1 - face) * mortarTone * MORTAR[0];
    into[1] = face * tone * (green + washed * (LIMEWASH[1] - green)) + (1 - face) * mortarTone * MORTAR[1];
    into[2] = face * tone * (blue + washed * (LIMEWASH[2] - blue)) + (1 - face) * mortarTone * MORTAR[2];
  };

  const other = new Float64Array(3);
  return (along, up, into) => {
    const box = boxes.find((rect) => liesIn(rect, along, up));
    if (box) {
      // an open box in the wall: pale rim, dark inside
      const x = along - box.along;
      const y = up - box.up;
      const inside = rampBetween(5, 8, Math.min(x, y, box.width - x, box.height - y));
      // a box that stands proud is closed
      const hollow = box.proud > 0 ? 0 : 0.93;
      for (let c = 0; c < 3; c++) into[c] = BOX[c]! * (1 - hollow * inside);
    } else if (kind === 'painted') {
      const tone = 1 + 0.01 * noise(along / 300, up / 300) + 0.008 * noise(along / 3, up / 3);
      for (let c = 0; c < 3; c++) into[c] = tone * paint[c]!;
    } else if (kind === 'brick') {
      paintBrick(along, up, into);
    } else {
      const bare = wall.bareness(along, up);
      if (bare < 1) paintPlaster(along, up, into);
      if (bare === 0) return;
      paintBrick(along, up, other);
      // the broken edge of the plaster is pale, its foot in shadow
      const rim = 1 + 0.25 * bare * (1 - bare) * 4;
      for (let c = 0; c < 3; c++) into[c] = rim * ((1 - bare) * into[c]! + bare * other[c]!);
    }
  };
}
