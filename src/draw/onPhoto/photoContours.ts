import { interpolateLab, rgb } from 'd3';
import { sidesOf, type Sides } from '../../core/lining/rects.ts';
import type { Units } from '../length.ts';
import { writeLength } from '../length.ts';
import type { Pen } from '../look.ts';
import { hatchRings, openRings, type Point, type Ring } from '../rings.ts';
import { areaAround, type Room } from '../room.ts';
import { textRoom } from '../text.ts';
import type { SvgNode } from '../tree.ts';
import { traceBed } from '../planZones.ts';
import { ink, inkLines, inkText } from './photoInk.ts';
import { cutOut, tracePhoto, type PhotoLine } from './photoLines.ts';
import type { Lift, PhotoSight, PlanOfWall } from './photoSight.ts';

/** Lines over the wall, openings left out, as seen in the photograph. */
function seeLines(
  sight: PhotoSight,
  lift: Lift,
  lines: readonly (readonly Point[])[],
  openings: readonly Sides[],
): PhotoLine[] {
  return cutOut(lines, openings).flatMap((line) => tracePhoto(sight, lift, line, false));
}

/** The bed of a plan as a photograph shows it: contour lines with their level and ink, and the lines that need care. */
export interface SeenBed {
  readonly levels: readonly {
    readonly level: number;
    readonly colour: string;
    readonly lines: readonly PhotoLine[];
  }[];
  /** Between zones, and round what is not known well. */
  readonly borders: readonly PhotoLine[];
  readonly unsure: readonly PhotoLine[];
  /** Over the wall: where the bed would be too thin. */
  readonly thin: readonly Ring[];
  readonly openings: readonly Sides[];
}

/** Traces the bed depth of a plan over the masonry and looks at it from the camera; takes longest of the drawing. */
export function seeBed({ survey, solution, plan }: PlanOfWall, sight: PhotoSight): SeenBed {
  const { bands, wall, borders, unsure, zones } = traceBed(survey, solution.surface, plan);
  const openings = survey.wall.openings.map(sidesOf);
  const tone = interpolateLab(ink.shallow, ink.deep);
  const see = (lines: readonly (readonly Point[])[]) => seeLines(sight, sight.onWall, lines, openings);
  return {
    levels: bands.map(({ level, rings }, k) => ({
      level,
      colour: rgb(tone(bands.length < 2 ? 0.5 : k / (bands.length - 1))).formatHex(),
      lines: see(openRings(rings, wall)),
    })),
    borders: see(borders),
    unsure: see(openRings(unsure, wall)),
    thin: zones.thin,
    openings,
  };
}

const lengthPx = (line: PhotoLine) =>
  line.reduce(
    (sum, [x, y], k) => (k === 0 ? 0 : sum + Math.hypot(x - line[k - 1]![0], y - line[k - 1]![1])),
    0,
  );

/** Every so many letters' sizes of a line its level is written into it again. */
const LABEL_EVERY = 26;

/** The level of a contour written on its line where there is room. */
function labelLine(line: PhotoLine, text: string, colour: string, pen: Pen, room: Room): SvgNode[] {
  const width = textRoom(text, pen.small);
  const length = lengthPx(line);
  if (length < 5 * width) return [];
  const parts = Math.max(1, Math.round(length / (LABEL_EVERY * pen.font)));
  return Array.from({ length: parts }, (_, part) => {
    const [from, to] = [part, part + 1].map((k) => Math.floor((k * line.length) / parts)) as [number, number];
    const middle = Math.floor((from + to) / 2);
    const step = Math.max(1, Math.floor((to - from) / 16));
    const places: { x: number; y: number; area: ReturnType<typeof areaAround> }[] = [];
    for (let off = 0; off <= (to - from) / 2; off += step)
      for (const at of off === 0 ? [middle] : [middle - off, middle + off]) {
        const spot = line[Math.min(Math.max(at, 0), line.length - 1)]!;
        places.push({
          x: spot[0],
          y: spot[1],
          area: areaAround(spot[0], spot[1], 1.3 * width, 1.3 * pen.small),
        });
      }
    const place = room.takeFirst(places);
    const style = { size: pen.small, anchor: 'middle', bold: true, fill: colour } as const;
    return place ? [inkText(text, place.x, place.y, style)] : [];
  }).flat();
}

export interface DrawnContours {
  /** Lines, and over them their levels. */
  readonly lines: SvgNode[];
  readonly labels: SvgNode[];
}

/** Contour lines of the bed depth on the masonry, lines between zones, and dots round what is not known well. */
export function drawContours(
  { levels, borders, unsure }: SeenBed,
  units: Units,
  pen: Pen,
  room: Room,
): DrawnContours {
  return {
    lines: [
      ...inkLines(borders, { colour: ink.deep, width: pen.line, dash: `${4 * pen.line} ${3 * pen.line}` }),
      ...levels.flatMap(({ lines, colour }) => inkLines(lines, { colour, width: pen.thin })),
      ...inkLines(unsure, { colour: ink.signal, width: pen.line, dash: `${pen.line} ${3 * pen.line}` }),
    ],
    labels: levels.flatMap(({ level, lines, colour }) =>
      lines.flatMap((line) => labelLine(line, writeLength(level, units, 0.5), colour, pen, room)),
    ),
  };
}

/** Slanting strokes where the bed would be thinner than it may be: masonry to hack off, or a plane to bring forward. */
export function drawThin(
  sight: PhotoSight,
  { thin, openings }: SeenBed,
  spacingMm: number,
  pen: Pen,
): SvgNode[] {
  const lines = seeLines(sight, sight.onWall, hatchRings(thin, spacingMm, -Math.PI / 4), openings);
  return inkLines(lines, { colour: ink.signal, width: pen.thin });
}
