import type { WallPoint } from '../../src/core/camera/frames.ts';
import type { Opening } from '../../src/core/survey.ts';
import { makeNoise, rampBetween, type Noise } from './noise.ts';
import type { Scene } from './scene.ts';
import type { Seen } from './seen.ts';
import type { Colour } from './texture.ts';
import { liesIn } from './wall.ts';

const REVEAL_MM = 150;
const FRAME_MM = 62;
const BAR_MM = 34;
const FLOOR: Colour = [0.235, 0.22, 0.2];
const CEILING: Colour = [0.62, 0.61, 0.58];
const REVEAL: Colour = [0.56, 0.53, 0.47];
/** The far end of a room, in shares of the way to the wall, and its light. */
const FAR = 4;
const FAR_TONE = 0.12;
const FRAME: Colour = [0.52, 0.52, 0.48];

/** The room round the wall: floor, ceiling, side walls, and what stands in the openings. */
export class Room {
  private readonly noise: Noise;
  constructor(private readonly scene: Scene) {
    this.noise = makeNoise(scene.wall.plan.seed + 303);
  }

  /** The opening a wall place lies in, or null. */
  openingAt(along: number, up: number): Opening | null {
    for (const opening of this.scene.wall.plan.openings) if (liesIn(opening, along, up)) return opening;
    return null;
  }

  /** What the ray from `eye` through a place on the wall's surface, outside the wall's edges, meets before it. */
  seeRoom(eye: WallPoint, along: number, up: number, out: number, seen: Seen): void {
    const { width, height, out: wallOut } = this.scene.wall.plan;
    // shares of the way to the wall's surface at which floor or ceiling, and a side wall, are met
    const level = up < 0 ? eye.up / (eye.up - up) : up > height ? (height - eye.up) / (up - eye.up) : 1;
    const upright =
      along < 0
        ? eye.along / (eye.along - along)
        : along > width
          ? (width - eye.along) / (along - eye.along)
          : 1;
    placeOnRay(eye, along, up, out, Math.min(level, upright), seen);
    seen.shines = false;
    seen.daylight = 0;
    seen.opening = null;
    const fromWall = seen.out - wallOut;
    if (along < 0 && this.scene.freeEnd && upright < level) {
      // the dim far end of the room, out of the laser's reach
      placeOnRay(eye, along, up, out, FAR, seen);
      seen.cornerMm = 1000;
      face(seen, 0, 0, 1);
      tint(REVEAL, FAR_TONE * (1 + 0.1 * this.noise(seen.along / 300, seen.up / 300)), seen.colour);
      seen.shines = true;
      return;
    }
    if (upright < level) {
      seen.cornerMm = Math.min(fromWall, seen.up, height - seen.up);
      face(seen, along < 0 ? 1 : -1, 0, 0);
      // the same plaster, from a part of its pattern that the wall itself does not use
      this.scene.look(along < 0 ? -900 - seen.out : width + 900 + seen.out, seen.up, seen.colour);
      return;
    }
    seen.cornerMm = Math.min(fromWall, seen.along, width - seen.along);
    face(seen, 0, up < 0 ? 1 : -1, 0);
    if (up < 0) this.paintFloor(seen.along, seen.out, fromWall, seen.colour);
    else tint(CEILING, 1 + 0.03 * this.noise(seen.along / 300, seen.out / 300), seen.colour);
  }

  private paintFloor(along: number, out: number, fromWall: number, into: Float64Array): void {
    const { noise } = this;
    const stains = 0.14 * noise(along / 420, out / 420) + 0.1 * noise(along / 90, out / 90 + 7);
    const grain =
      0.07 * noise(along / 19, out / 19) +
      0.09 * noise(along / 5, out / 5) +
      0.07 * noise(along / 2, out / 2);
    // plaster dust and crumbs along the foot of the wall
    const dust = rampBetween(
      420,
      20,
      fromWall + 170 * noise(along / 130, out / 110) + 60 * noise(along / 30, out / 30),
    );
    const crumbs = rampBetween(0.72, 0.84, noise(along / 7 + 50, out / 7) + 0.25 * dust - 0.18);
    const tone = 1 + stains + grain;
    for (let c = 0; c < 3; c++)
      into[c] = FLOOR[c]! * tone * (1 - 0.5 * dust) + (0.42 - 0.03 * c) * (0.5 * dust * tone + 0.5 * crumbs);
  }

  /** What the ray from `eye` through a place in an opening meets behind the wall's face: reveal, frame or sky. */
  seeOpening(eye: WallPoint, opening: Opening, along: number, up: number, out: number, seen: Seen): void {
    const wallOut = this.scene.wall.plan.out;
    const back = (wallOut - REVEAL_MM - eye.out) / (out - eye.out);
    // a ray going right can only meet the right jamb, one going up only the head
    const right = along > eye.along;
    const rising = up > eye.up;
    const jamb =
      along === eye.along
        ? back
        : (opening.along + (right ? opening.width : 0) - eye.along) / (along - eye.along);
    const sill = up === eye.up ? back : (opening.up + (rising ? opening.height : 0) - eye.up) / (up - eye.up);
    const nearest = Math.min(back, jamb, sill);
    placeOnRay(eye, along, up, out, nearest, seen);
    seen.opening = opening;
    seen.shines = false;
    seen.daylight = 0;
    seen.cornerMm = 1000;
    if (nearest === back) {
      this.seeWindow(opening, seen);
      return;
    }
    if (nearest === jamb) face(seen, right ? -1 : 1, 0, 0);
    else face(seen, 0, rising ? -1 : 1, 0);
    const tone = 1 + 0.07 * this.noise(seen.out / 30, (seen.along + seen.up) / 30);
    tint(REVEAL, tone, seen.colour);
    // daylight falls on the reveal, most near the glass
    const depth = (wallOut - seen.out) / REVEAL_MM;
    seen.daylight = (0.1 + 0.24 * depth) * (nearest === jamb ? 0.9 : rising ? 0.5 : 1.5);
  }

  private seeWindow(opening: Opening, seen: Seen): void {
    const { noise } = this;
    const { along, up } = seen;
    const x = along - opening.along;
    const y = up - opening.up;
    const edge = Math.min(x, y, opening.width - x, opening.height - y);
    const bar = Math.min(
      Math.abs(x - opening.width / 2) - BAR_MM / 2 - 8,
      Math.abs(y - opening.height * 0.64) - BAR_MM / 2,
    );
    face(seen, 0, 0, 1);
    if (edge < FRAME_MM || bar < 0) {
      const groove = rampBetween(3, 0, Math.abs(edge - FRAME_MM * 0.72));
      tint(FRAME, (1 - 0.45 * groove) * (1 + 0.04 * noise(along / 9, up / 60)), seen.colour);
      return;
    }
    // sky over a hazy row of trees, far out of focus
    const skyline = 0.36 + 0.06 * noise(along / 210, 1.5) + 0.02 * noise(along / 70, 6.5);
    const trees = rampBetween(skyline + 0.03, skyline - 0.03, y / opening.height);
    const leaves = 1 + 0.35 * noise(along / 85, up / 70) + 0.2 * noise(along / 34 + 9, up / 31);
    const { sky } = this.scene.light;
    seen.shines = true;
    seen.colour[0] = sky[0] * (1 - trees * (1 - 0.1 * leaves));
    seen.colour[1] = sky[1] * (1 - trees * (1 - 0.125 * leaves));
    seen.colour[2] = sky[2] * (1 - trees * (1 - 0.085 * leaves));
  }
}

function placeOnRay(eye: WallPoint, along: number, up: number, out: number, share: number, seen: Seen): void {
  seen.along = eye.along + share * (along - eye.along);
  seen.up = eye.up + share * (up - eye.up);
  seen.out = eye.out + share * (out - eye.out);
}

function face(seen: Seen, along: number, up: number, out: number): void {
  seen.normalAlong = along;
  seen.normalUp = up;
  seen.normalOut = out;
}

function tint(colour: Colour, tone: number, into: Float64Array): void {
  for (let c = 0; c < 3; c++) into[c] = colour[c]! * tone;
}
