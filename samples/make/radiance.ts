import type { Camera } from '../../src/core/camera/camera.ts';
import type { Opening } from '../../src/core/survey.ts';
import { glareAt } from './glare.ts';
import { colourOfLaser, fanLight, makeSpeckle, profileLine, type Laser, type Speckle } from './laser.ts';
import { addLamps, shadeCorner } from './light.ts';
import { seePipe, shadesPoint } from './pipe.ts';
import { Room } from './room.ts';
import type { Radiance, Scene } from './scene.ts';
import { emptySeen, type Seen } from './seen.ts';
import { acrossTape, alongTape, averageTape, liesUnderTape, TAPE_OFF_MM, type TapeStrip } from './tape.ts';
import type { Colour } from './texture.ts';
import { castView, fillRow, type View } from './view.ts';
import { liesIn } from './wall.ts';

/** What is done to the light on its way to the sensor. */
export interface RadianceOptions {
  readonly seed: number;
  readonly exposure: number;
  /** Standard deviation of the logarithm of the speckle; 0 = none. */
  readonly speckle: number;
  /** Share of light lost in the picture's corners. */
  readonly vignetting: number;
}

const LATTICE_PX = 8;
/** From a place in a tape's shadow, the way to the tape (mm): up and left, where the lamp is. */
const SHADOW_MM = { along: -1.5, up: 3 };
/** A tape this near the pixel's place can cover part of the pixel (mm). */
const TAPE_EDGE_MM = 3;

/** Light of every pixel: its ray is met with the wall, the room or a tape, lit and shone on by the lasers. */
export function renderRadiance(scene: Scene, camera: Camera, options: RadianceOptions): Radiance {
  return renderUnder([scene.lasers], scene, camera, options)[0]!;
}

/** The same scene's light under several sets of lasers instead of its own, for the price of little more than one. */
export function renderUnder(
  sets: readonly (readonly Laser[])[],
  scene: Scene,
  camera: Camera,
  options: RadianceOptions,
): Radiance[] {
  const painter = new Painter(sets, scene, camera, options);
  for (let v = 0; v < camera.heightPx; v++) painter.paintRow(v);
  return painter.lights;
}

/** Places that one picture row sees on the wall (mm); `out`, with the grain, is NaN where something else is seen. */
interface Row {
  readonly along: Float64Array;
  readonly up: Float64Array;
  readonly out: Float64Array;
}

/** A laser with its colour and speckle as the sensor sees them. */
interface Beam {
  readonly laser: Laser;
  readonly colour: Colour;
  readonly speckle: Speckle;
}

class Painter {
  /** One for each set of lasers; a pixel's numbers below are those of the first set, then the next. */
  readonly lights: Radiance[];
  private readonly view: View;
  private readonly room: Room;
  private readonly beams: readonly (readonly Beam[])[];
  private readonly smooth: Row;
  private row: Row;
  private lastRow: Row;
  private lastOffset = 0;
  private readonly seen = emptySeen();
  private readonly tapeSeen = emptySeen();
  private readonly roomLight = new Float64Array(3);
  private readonly lit = new Float64Array(3);
  private readonly pixel: Float64Array;
  private readonly tapePixel: Float64Array;

  constructor(
    sets: readonly (readonly Laser[])[],
    private readonly scene: Scene,
    private readonly camera: Camera,
    private readonly options: RadianceOptions,
  ) {
    const { widthPx, heightPx } = camera;
    const plane = () => new Float32Array(widthPx * heightPx);
    this.lights = sets.map(() => ({ widthPx, heightPx, red: plane(), green: plane(), blue: plane() }));
    this.pixel = new Float64Array(3 * sets.length);
    this.tapePixel = new Float64Array(3 * sets.length);
    const row = () => new Float64Array(widthPx);
    const rows = (): Row => ({ along: row(), up: row(), out: row() });
    [this.smooth, this.row, this.lastRow] = [rows(), rows(), rows()];
    this.view = castView(camera, scene.wall, LATTICE_PX);
    this.room = new Room(scene);
    this.beams = sets.map((lasers) =>
      lasers.map((laser, index) => ({
        laser,
        colour: colourOfLaser(laser),
        speckle: makeSpeckle(options.seed * 31 + index, options.speckle),
      })),
    );
  }

  paintRow(v: number): void {
    const { camera, smooth, seen, pixel, options } = this;
    const { widthPx, heightPx, focalPx } = camera;
    const { width, height } = this.scene.wall.plan;
    fillRow(this.view, v, smooth.along, smooth.up, smooth.out);
    const y = (v - (heightPx - 1) / 2) / focalPx;
    for (let u = 0; u < widthPx; u++) {
      const along = smooth.along[u]!;
      const up = smooth.up[u]!;
      const out = smooth.out[u]!;
      const outside = along < 0 || up < 0 || along > width || up > height;
      const opening = outside ? null : this.room.openingAt(along, up);
      if (outside) this.room.seeRoom(camera.position, along, up, out, seen);
      else if (opening) this.room.seeOpening(camera.position, opening, along, up, out, seen);
      else this.seeWall(u, v);
      if (outside || opening) {
        this.row.along[u] = along;
        this.row.up[u] = up;
        this.row.out[u] = NaN;
      }
      this.lightUp(u, v, seen, pixel);
      if (outside && this.scene.floorGloss) this.mirrorWall(u, v, this.scene.floorGloss);
      if (this.scene.glares)
        for (let c = 0; c < pixel.length; c++) pixel[c]! += glareAt(this.scene.glares, along, up);
      if (this.scene.tapes.length > 0) this.layTapes(u, v);
      if (this.scene.pipes && seePipe(this.scene.pipes, camera.position, along, up, out, seen))
        this.lightUp(u, v, seen, pixel);
      const x = (u - (widthPx - 1) / 2) / focalPx;
      // the corners of a usual phone picture lie at x^2 + y^2 = 0.72
      const gain = options.exposure * (1 - (options.vignetting * (x * x + y * y)) / 0.72);
      const at = v * widthPx + u;
      for (let set = 0; set < this.lights.length; set++) {
        const { red, green, blue } = this.lights[set]!;
        red[at] = pixel[3 * set]! * gain;
        green[at] = pixel[3 * set + 1]! * gain;
        blue[at] = pixel[3 * set + 2]! * gain;
      }
    }
    [this.row, this.lastRow] = [this.lastRow, this.row];
  }

  /** Masonry or box: offset from the smooth surface (mm). */
  private offsetAt(along: number, up: number): number {
    for (const box of this.scene.wall.plan.boxes) if (liesIn(box, along, up)) return box.proud;
    return this.scene.wall.reliefMm(along, up);
  }

  /** Meets the pixel's ray with the wall's relief, going on from the smooth surface. */
  private seeWall(u: number, v: number): void {
    const { seen, row, lastRow, smooth } = this;
    const { width, height } = this.scene.wall.plan;
    const eye = this.camera.position;
    const flat = smooth.out[u]!;
    const slopeAlong = (smooth.along[u]! - eye.along) / (flat - eye.out);
    const slopeUp = (smooth.up[u]! - eye.up) / (flat - eye.out);
    // the neighbour's offset is nearly the right one
    let offset = this.lastOffset;
    let along = 0;
    let up = 0;
    for (let turn = 0; turn < 6; turn++) {
      along = smooth.along[u]! + slopeAlong * offset;
      up = smooth.up[u]! + slopeUp * offset;
      const next = this.offsetAt(along, up);
      const moved = Math.abs(next - offset);
      offset = next;
      if (moved < 0.01) break;
    }
    this.lastOffset = offset;
    const out = flat + offset;
    row.along[u] = along;
    row.up[u] = up;
    // the row before is only asked for slopes: it carries the grain
    row.out[u] = out + this.scene.wall.grainMm(along, up);
    this.scene.look(along, up, seen.colour);
    for (const strip of this.scene.tapes)
      if (liesUnderTape(strip, along + SHADOW_MM.along, up + SHADOW_MM.up))
        for (let c = 0; c < 3; c++) seen.colour[c]! *= 0.6;
    seen.along = along;
    seen.up = up;
    seen.out = out;
    seen.cornerMm = Math.min(along, up, width - along, height - up);
    seen.shines = false;
    seen.daylight = 0;
    seen.opening = null;
    const x = u > 0 ? slopeOf(row.out[u] - row.out[u - 1]!, along - row.along[u - 1]!) : 0;
    const y = v > 0 ? slopeOf(row.out[u] - lastRow.out[u]!, up - lastRow.up[u]!) : 0;
    const length = Math.sqrt(1 + x * x + y * y);
    seen.normalAlong = -x / length;
    seen.normalUp = -y / length;
    seen.normalOut = 1 / length;
  }

  /** Light that comes back from what is seen, into `pixel`. */
  private lightUp(u: number, v: number, seen: Seen, pixel: Float64Array): void {
    const { roomLight, lit } = this;
    const { light } = this.scene;
    if (seen.shines) {
      for (let c = 0; c < pixel.length; c++) pixel[c] = seen.colour[c % 3]!;
      return;
    }
    const shade = shadeCorner(seen.cornerMm);
    for (let c = 0; c < 3; c++) roomLight[c] = light.ambient[c]! * shade + seen.daylight * light.sky[c]!;
    addLamps(light.lamps, seen, roomLight);
    const pixelMm = (this.camera.position.out - seen.out) / this.camera.focalPx;
    for (let set = 0; set < this.beams.length; set++) {
      lit.set(roomLight);
      for (const beam of this.beams[set]!) this.shine(beam, u, v, seen, pixelMm);
      for (let c = 0; c < 3; c++) pixel[3 * set + c] = seen.colour[c]! * lit[c]!;
    }
  }

  /** Adds to `lit` what a laser throws on what is seen. */
  private shine({ laser, colour, speckle }: Beam, u: number, v: number, seen: Seen, pixelMm: number): void {
    const distance = (laser.axis === 'level' ? seen.up : seen.along) - laser.at;
    const across = profileLine(laser, distance, pixelMm);
    if (across === 0 || (seen.opening && !reachesInto(laser, seen.opening, seen, this.scene.wall.plan.out)))
      return;
    if (this.scene.pipes && shadesPoint(this.scene.pipes, laser, seen)) return;
    const strength = across * fanLight(laser, seen.along, seen.up, seen.out) * speckle.at(u, v);
    for (let c = 0; c < 3; c++) this.lit[c]! += strength * colour[c]!;
  }

  /** Adds what a shiny floor mirrors: the wall upside down, as if it went on below. */
  private mirrorWall(u: number, v: number, share: number): void {
    const { tapeSeen, smooth } = this;
    const [along, up] = [smooth.along[u]!, -smooth.up[u]!];
    const { width, height } = this.scene.wall.plan;
    if (along < 0 || along > width || up < 0 || up > height) return;
    this.scene.look(along, up, tapeSeen.colour);
    tapeSeen.along = along;
    tapeSeen.up = up;
    tapeSeen.out = this.scene.wall.outMm(along, up);
    tapeSeen.cornerMm = Math.min(along, up);
    this.lightUp(u, v, tapeSeen, this.tapePixel);
    for (let c = 0; c < this.pixel.length; c++) this.pixel[c]! += share * this.tapePixel[c]!;
  }

  private layTapes(u: number, v: number): void {
    const { smooth } = this;
    const eye = this.camera.position;
    const share = 1 + TAPE_OFF_MM / (smooth.out[u]! - eye.out);
    const along = eye.along + (smooth.along[u]! - eye.along) * share;
    const up = eye.up + (smooth.up[u]! - eye.up) * share;
    for (const strip of this.scene.tapes)
      if (liesUnderTape(strip, along, up, TAPE_EDGE_MM)) this.layTape(strip, along, up, u, v);
  }

  /** Lays a tape over what the pixel shows, by the share of the pixel it covers. */
  private layTape(strip: TapeStrip, along: number, up: number, u: number, v: number): void {
    const { smooth, tapeSeen } = this;
    // a pixel's sides on the wall: to the next column, and the same turned by a right angle
    const other = u > 0 ? u - 1 : u + 1;
    const x = (smooth.along[u]! - smooth.along[other]!) * (u - other);
    const y = (smooth.up[u]! - smooth.up[other]!) * (u - other);
    const s = alongTape(strip, along, up);
    const w = acrossTape(strip, along, up);
    const covered =
      strip.axis === 'along'
        ? averageTape(strip, s, w, x, strip.side * y, y, -strip.side * x, tapeSeen.colour)
        : averageTape(strip, s, w, y, strip.side * x, -x, strip.side * y, tapeSeen.colour);
    if (covered === 0) return;
    tapeSeen.along = along;
    tapeSeen.up = up;
    tapeSeen.out = smooth.out[u]! + TAPE_OFF_MM;
    tapeSeen.cornerMm = Math.min(along, up);
    this.lightUp(u, v, tapeSeen, this.tapePixel);
    for (let c = 0; c < this.pixel.length; c++)
      this.pixel[c]! += covered * (this.tapePixel[c]! - this.pixel[c]!);
  }
}

/** A laser's light passes through the opening to a point behind the wall's face. */
function reachesInto(laser: Laser, opening: Opening, point: Seen, wallOut: number): boolean {
  const share = (laser.position.out - wallOut) / (laser.position.out - point.out);
  const along = laser.position.along + share * (point.along - laser.position.along);
  const up = laser.position.up + share * (point.up - laser.position.up);
  return liesIn(opening, along, up);
}

/** A surface's slope from two neighbouring pixels, kept to what masonry has; 0 where there is no neighbour. */
function slopeOf(rise: number, run: number): number {
  const slope = rise / run;
  return slope > 1.2 ? 1.2 : slope < -1.2 ? -1.2 : Number.isNaN(slope) ? 0 : slope;
}
