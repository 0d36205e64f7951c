import type { LaserLine, LinePoint, Mark, Photo, Reading, Survey } from '../survey.ts';
import { prepareLine, type Network, type SeenLine } from './network.ts';

/**
 * The network of a survey that differs from the one it was made of in what readings, marks, stands or points of lines say; null where more
 * is different, so that the unknowns would be others or the start with them. Unchanged lines keep their stretches.
 */
export function changeNetwork(network: Network, before: Survey, now: Survey): Network | null {
  if (!isEqual(before.wall, now.wall) || !isEqual(before.phones, now.phones)) return null;
  if (before.photos.length !== now.photos.length || !keepsReadings(before.readings, now.readings))
    return null;
  if (!before.photos.every((photo, k) => isSamePicture(photo, now.photos[k]!))) return null;
  const photoNow = (photo: Photo) => now.photos[before.photos.findIndex(({ id }) => id === photo.id)]!;
  const stations = network.stations.map((station) => {
    const photos = station.photos.map(photoNow);
    const restood = station.photos.some(({ stand }, k) => !isEqual(stand, photos[k]!.stand));
    // several stands of one place are weighed together where they are gathered
    if (restood && photos.length > 1) return null;
    return { ...station, photo: photos[0]!, photos, stand: restood ? photos[0]!.stand : station.stand };
  });
  if (!stations.every((station) => station !== null)) return null;
  const lines: SeenLine[] = [];
  for (const seen of network.lines) {
    const photo = photoNow(seen.photo);
    const line = photo.lines[seen.photo.lines.indexOf(seen.line)]!;
    const changed = changeLine(now, network, seen, photo, line);
    if (!changed) return null;
    lines.push(changed);
  }
  const idle = now.photos.some((photo, k) =>
    photo.lines.some(
      (line, j) =>
        !line.leftOut &&
        !isSameLine(line, before.photos[k]!.lines[j]!) &&
        !lines.some((seen) => seen.line === line),
    ),
  );
  if (idle) return null;
  const marks = network.marks.map((each) => {
    const photo = photoNow(each.photo);
    if (each.index < 0) return { ...each, photo };
    const { u, v, along, up, sigma } = photo.marks[each.index]!;
    return { ...each, photo, mark: { ...each.mark, u, v, along, up, sigma } };
  });
  return { ...network, stations, lines, marks, readings: now.readings };
}

/** Readings may be changed where they stand, and new ones follow. */
function keepsReadings(before: readonly Reading[], now: readonly Reading[]): boolean {
  return now.length >= before.length && before.every(({ id }, k) => now[k]!.id === id);
}

/** Whether two states of a photo differ in points, gaps, marks and stand at most, and in no mark that its packers or a read tape hang on. */
function isSamePicture(before: Photo, now: Photo): boolean {
  const rest = (photo: Photo) => ({ ...photo, lines: null, marks: null, stand: null });
  if (!isEqual(rest(before), rest(now)) || before.lines.length !== now.lines.length) return false;
  if (before.marks.length !== now.marks.length) return false;
  const moved = before.marks.map((mark, k) => !isEqual(mark, now.marks[k]));
  const isHeld = (k: number) => now.tapes.some((tape) => tape.read && (tape.from === k || tape.to === k));
  const takesPart = ({ leftOut }: Mark) => !leftOut;
  return (
    before.lines.every(
      (line, k) =>
        line.id === now.lines[k]!.id &&
        !line.leftOut === !now.lines[k]!.leftOut &&
        isEqual(line.sheet, now.lines[k]!.sheet),
    ) &&
    moved.every((is, k) => !is || (!isHeld(k) && takesPart(before.marks[k]!) === takesPart(now.marks[k]!))) &&
    ((before.blocks ?? []).length === 0 || before.lines.every((line, k) => isSameLine(line, now.lines[k]!)))
  );
}

/** A line with its points of now; null where nothing of it is left. */
function changeLine(
  { wall }: Survey,
  network: Network,
  seen: SeenLine,
  photo: Photo,
  line: LaserLine,
): SeenLine | null {
  if (isSameLine(seen.line, line)) return { ...seen, photo, line };
  const prepared = prepareLine(wall, seen.station, network.stations[seen.station]!.camera, photo, line);
  const { middleMm, halfLengthMm } = seen;
  // the sheet still turns about where its tilt was solved
  return prepared && { ...prepared, middleMm, halfLengthMm };
}

function isSameLine(a: LaserLine, b: LaserLine): boolean {
  return (
    a.points.length === b.points.length &&
    a.points.every((point, k) => isSamePoint(point, b.points[k]!)) &&
    isEqual(a.gaps, b.gaps)
  );
}

function isSamePoint(a: LinePoint, b: LinePoint): boolean {
  return a.u === b.u && a.v === b.v && a.sigma === b.sigma && a.state === b.state;
}

/** Whether two values of a survey's file say the same; a key that is missing says what `undefined` does. */
function isEqual(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return Object.is(a, b);
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].every((key) =>
    isEqual((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]),
  );
}
