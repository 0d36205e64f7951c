import { line as newLine } from 'd3';
import type { Profile, Solution } from '../core/results.ts';
import type { LaserLine, Photo, Survey } from '../core/survey.ts';
import type { WallFrame } from './frame.ts';
import { writeLength } from './length.ts';
import { look, type Pen } from './look.ts';
import { evenProfile } from './profileLine.ts';
import { areaAround, placesBeside, type Room } from './room.ts';
import { label, textRoom } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** Times that a profile's unevenness is enlarged where it is drawn along its line. */
export const waveScale = 10;
/** Step of the drawn profile along its line, mm. */
const waveStepMm = 20;

/** Ids of readings, and photo/line of lines, that do not agree with the rest. */
export function listSuspects(solution: Solution | null | undefined): ReadonlySet<string> {
  const suspects = solution?.residuals.filter(({ state }) => state !== 'used' && state !== 'by_hand') ?? [];
  return new Set(suspects.map(({ kind, subject }) => `${kind} ${subject}`));
}

/**
 * The stretch of wall (mm along the line) that a photograph shows of a line: its marks, else the whole wall.
 * @example stretchOf({ marks: [] }, { axis: 'level', at: 900 }, { width: 3600, height: 2450 }) // [0, 3600]
 */
export function stretchOf(
  photo: Pick<Photo, 'marks'>,
  { axis }: LaserLine['sheet'],
  wall: Pick<Survey['wall'], 'width' | 'height'>,
): [number, number] {
  const most = axis === 'level' ? wall.width : wall.height;
  const places = photo.marks.map((mark) => (axis === 'level' ? mark.along : mark.up));
  const within = (at: number) => Math.min(Math.max(at, 0), most);
  return places.length < 2 ? [0, most] : [within(Math.min(...places)), within(Math.max(...places))];
}

/** The unevenness of a profile about its mean, drawn along its line and enlarged; gaps stay open. */
function drawWave(profile: Profile, frame: WallFrame, colour: string, pen: Pen): SvgNode[] {
  const even = evenProfile(profile, waveStepMm);
  const known = even.out.filter((out) => !Number.isNaN(out));
  if (known.length < 2) return [];
  const mean = known.reduce((sum, out) => sum + out, 0) / known.length;
  const aside = (k: number) => profile.atMm + waveScale * (even.out[k]! - mean);
  const steps = [...even.s.keys()];
  const isLevel = profile.axis === 'level';
  const trace = newLine<number>()
    .defined((k) => !Number.isNaN(even.out[k]!))
    .x((k) => Number(formatNumber(frame.x(isLevel ? even.s[k]! : aside(k)))))
    .y((k) => Number(formatNumber(frame.y(isLevel ? aside(k) : even.s[k]!))));
  return [element('path', { d: trace(steps) ?? '', fill: 'none', stroke: colour, 'stroke-width': pen.line })];
}

/** How one line stands: seen, not looked for yet, or not agreeing with the rest. */
function colourOf(line: LaserLine, isSuspect: boolean): { readonly stroke: string; readonly seen: boolean } {
  const seen = line.points.some((point) => point.state !== 'off');
  if (isSuspect) return { stroke: look.signal, seen };
  return { stroke: seen ? look[line.colour] : look.graphite, seen };
}

interface DrawnLine {
  readonly nodes: readonly SvgNode[];
  readonly name: string;
  readonly stroke: string;
  readonly isLevel: boolean;
  readonly ends: readonly [number, number, number, number];
}

function drawLine(
  known: KnownLines,
  photo: Photo,
  line: LaserLine,
  frame: WallFrame,
  pen: Pen,
  named: boolean,
): DrawnLine[] {
  const { survey, solution } = known;
  const { axis, at } = line.sheet;
  if (at === null) return [];
  // the solve names a line by its photo too only where another line has the same id
  const suspects = listSuspects(solution);
  const isSuspect = suspects.has(`line ${line.id}`) || suspects.has(`line ${photo.id}/${line.id}`);
  const isOut = photo.leftOut === true || line.leftOut === true;
  const { stroke, seen } = isOut ? { stroke: look.graphite, seen: false } : colourOf(line, isSuspect);
  const [from, to] = stretchOf(photo, line.sheet, survey.wall);
  const isLevel = axis === 'level';
  const ends = isLevel
    ? ([frame.x(from), frame.y(at), frame.x(to), frame.y(at)] as const)
    : ([frame.x(at), frame.y(from), frame.x(at), frame.y(to)] as const);
  const profile = solution?.profiles.find((each) => each.photo === photo.id && each.line === line.id);
  const wave = named && profile ? drawWave(profile, frame, stroke, pen) : [];
  const [x1, y1, x2, y2] = ends;
  const straight = element('line', {
    ...{ x1, y1, x2, y2, stroke },
    'stroke-width': wave.length > 0 ? pen.hair : seen ? pen.line : pen.thin,
    'stroke-dasharray': seen ? undefined : `${formatNumber(6 * pen.thin)} ${formatNumber(5 * pen.thin)}`,
  });
  const name = `${photo.id} ${axis} ${writeLength(at, survey.units, 1)}${isOut ? ' (out)' : isSuspect ? ' ?' : ''}`;
  return [{ nodes: [straight, ...wave], name, stroke, isLevel, ends }];
}

/** The name of a line beside it, where there is room for it: near its start or further on, on either side. */
function nameLine({ name, stroke, isLevel, ends }: DrawnLine, pen: Pen, room: Room): SvgNode[] {
  const [x1, y1, x2, y2] = ends;
  const length = textRoom(name, pen.small);
  const aside = 0.8 * pen.small;
  const places = [0, 0.12, 0.25, 0.4, 0.6].flatMap((share) =>
    [-aside, aside].map((off) => {
      const x = isLevel ? x1 + 0.4 * pen.font + share * (x2 - x1) : x1 + off;
      const y = isLevel ? y1 + off : y1 - 0.4 * pen.font + share * (y2 - y1);
      const area = isLevel
        ? { left: x, right: x + length, top: y - 0.6 * pen.small, bottom: y + 0.6 * pen.small }
        : { left: x - 0.6 * pen.small, right: x + 0.6 * pen.small, top: y - length, bottom: y };
      return { area, x, y };
    }),
  );
  const place = room.takeFirst(places);
  return place ? [label(name, place.x, place.y, { size: pen.small, fill: stroke, turned: !isLevel })] : [];
}

/** What the lines and readings are drawn from. */
export interface KnownLines {
  readonly survey: Survey;
  readonly solution?: Solution | null;
}

/**
 * The laser's lines where they stand on the wall: in the laser's colour where one was found, dashed pencil where none was
 * looked for yet or it was left out, signal where it does not agree. A line without its height or place typed is not drawn.
 * Names are given apart, to be drawn over the openings. `room` null: no names, no profiles.
 */
export function drawLines(known: KnownLines, frame: WallFrame, pen: Pen, room: Room | null) {
  const lines = known.survey.photos.flatMap((photo) =>
    photo.lines.flatMap((line) => drawLine(known, photo, line, frame, pen, room !== null)),
  );
  return {
    lines: element('g', {}, ...lines.flatMap(({ nodes }) => nodes)),
    names: element('g', {}, ...(room ? lines.flatMap((line) => nameLine(line, pen, room)) : [])),
  };
}

/**
 * The rule readings: a small target each, and with `room` its distance from the laser's plane beside it; signal where it
 * does not agree with the rest.
 */
export function drawReadings(
  { survey, solution }: KnownLines,
  frame: WallFrame,
  pen: Pen,
  room: Room | null,
): SvgNode {
  const suspects = listSuspects(solution);
  const radius = room ? 0.38 * pen.font : 0.22 * pen.font;
  const arm = 1.5 * radius;
  if (room)
    for (const { along, up } of survey.readings)
      room.take(areaAround(frame.x(along), frame.y(up), 2 * arm, 2 * arm));
  return element(
    'g',
    {},
    ...survey.readings.flatMap(({ id, along, up, distance, leftOut }) => {
      const isSuspect = !leftOut && suspects.has(`reading ${id}`);
      const colour = isSuspect ? look.signal : leftOut ? look.edge : look.pencil;
      const [x, y] = [frame.x(along), frame.y(up)];
      const target = element(
        'g',
        { stroke: colour, 'stroke-width': pen.thin },
        element('circle', { cx: x, cy: y, r: radius, fill: look.sheet }),
        element('line', { x1: x - arm, y1: y, x2: x + arm, y2: y }),
        element('line', { x1: x, y1: y - arm, x2: x, y2: y + arm }),
      );
      if (!room) return [target];
      const text = `${writeLength(distance, survey.units, 0.1)}${isSuspect ? ' ?' : leftOut ? ' (out)' : ''}`;
      const place = room.takeFirst(placesBeside(x, y, textRoom(text, pen.font), pen.font, arm));
      if (!place) return [target];
      return [
        target,
        label(text, place.x, place.y, { size: pen.font, anchor: 'middle', bold: true, fill: colour }),
      ];
    }),
  );
}
