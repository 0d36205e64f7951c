import { seeBlock } from '../camera/block.ts';
import { groupPhotos, isStranger } from '../camera/fixedPhone.ts';
import { checkLine, checkLineHeight } from '../camera/lineCheck.ts';
import { refuse, type Refusal, type Warning } from '../refusal.ts';
import type { LaserLine, Photo, Survey } from '../survey.ts';
import {
  indexStation,
  prepareLine,
  readLens,
  type Network,
  type SeenLine,
  type Station,
  type StationBlock,
  type StationMark,
} from './network.ts';
import { placePhotos, type Placement } from './placement.ts';
import type { FailedTest, LeftOut } from './settle.ts';
import { LOOSE_PRIOR } from './snoop.ts';

/** A survey's network at its start, what has to be told of it, and the phones in the order of their unknowns. */
export interface StartedNetwork {
  readonly network: Network;
  readonly phoneIds: readonly string[];
  /** What takes no part or little from the start: readings left out by hand, marks and stands that contradict the rest of their photo. */
  readonly doubts: LeftOut;
  readonly warnings: readonly Warning[];
}

/** What a network is gathered into, placement by placement. */
interface Gathered {
  readonly stations: Station[];
  readonly lines: SeenLine[];
  readonly marks: StationMark[];
  readonly blocks: StationBlock[];
  readonly doubts: Map<string, FailedTest>;
  readonly wrongStands: { station: number; parameter: number }[];
  readonly refusals: Refusal[];
  readonly warnings: Warning[];
  readonly phoneIds: string[];
}

/** Measures of a stand as parameters of a camera (projection.ts). */
const standParameters = { along: 0, up: 1, off: 2 } as const;

/**
 * Resects every photograph that has line points, those of one unmoved phone together, and gathers what can be solved together. A
 * photograph that cannot take part is left out with a warning, whatever stops it.
 * @throws what stops the first photograph, where nothing else was measured
 */
export function startNetwork(
  survey: Survey,
  startOffset: (alongMm: number, upMm: number) => number,
): StartedNetwork {
  const gathered: Gathered = {
    stations: [],
    lines: [],
    marks: [],
    blocks: [],
    doubts: new Map(),
    wrongStands: [],
    refusals: [],
    warnings: [],
    phoneIds: survey.phones.map(({ id }) => id),
  };
  const { stations, lines, marks, blocks, doubts, refusals, warnings, phoneIds } = gathered;
  survey.readings.forEach(({ leftOut }, k) => {
    if (leftOut) doubts.set(`reading ${k}`, { test: null, weight: 0, byHand: true });
  });
  const wanted = survey.photos.filter(({ leftOut }) => !leftOut);
  for (const photo of wanted)
    if (isStranger(wanted, photo)) warnings.push({ code: 'station_mixed', subject: photo.id });
  for (const group of groupPhotos(wanted)) {
    for (const photo of group) warnOfEmpty(photo, group.length > 1, warnings);
    if (group.every((photo) => listSeen(photo).length === 0)) continue;
    const heightless = group.flatMap((photo) => listSeen(photo).map((line) => checkLineHeight(photo, line)));
    refusals.push(...heightless.filter((problem) => problem !== null));
    if (heightless.every((problem) => problem !== null)) {
      for (const photo of group) warnings.push({ code: 'photo_left_out', subject: photo.id });
      continue;
    }
    const { placements, stopped, moved } = placePhotos(survey, group, startOffset);
    for (const { photo, refusal, suspect } of stopped) {
      refusals.push(refusal);
      if (suspect) warnings.push({ code: suspect, subject: photo.id });
      warnings.push({ code: 'photo_left_out', subject: photo.id });
    }
    for (const photo of moved) warnings.push({ code: 'marks_suspect', subject: photo.id });
    for (const placement of placements) gatherPlacement(survey, placement, gathered);
  }
  const measured = survey.readings.some(({ leftOut }) => !leftOut);
  if (stations.length === 0 && !measured && refusals.length > 0) refuse(refusals[0]!);
  const phones = phoneIds.map((id) => readLens(survey, id));
  const network = { phones, stations, lines, marks, readings: survey.readings, blocks };
  for (const { station, parameter } of gathered.wrongStands)
    doubts.set(`prior ${indexStation(network, station) + parameter}`, {
      test: null,
      weight: LOOSE_PRIOR ** -2,
      kept: true,
    });
  return { network, phoneIds, doubts, warnings };
}

/** Tells of a photo that shows less than it is said to; of several from one place, one may show the tape alone. */
function warnOfEmpty(photo: Photo, together: boolean, warnings: Warning[]): void {
  const wanted = photo.lines.filter((line) => !line.leftOut);
  const seen = listSeen(photo);
  if (wanted.length === 0 && (photo.lines.length > 0 || together)) return;
  if (seen.length === 0 || seen.length < wanted.length) warnings.push({ code: 'no_line', subject: photo.id });
}

/** The lines of a photo that take part as far as can be told before it is placed. */
function listSeen(photo: Photo): LaserLine[] {
  return photo.lines.filter((line) => !line.leftOut && hasPoints(line));
}

/** Whether a line has any point that was not switched off. */
export function hasPoints(line: LaserLine): boolean {
  return line.points.some((point) => point.state !== 'off');
}

/** Makes a station of a placement, with the lines that can be used from there, its marks and its packers. */
function gatherPlacement(survey: Survey, placement: Placement, gathered: Gathered): void {
  const { photos, resection, pooled, wrongMarks, wrongStand } = placement;
  const { stations, lines, marks, blocks, doubts, refusals, warnings, phoneIds } = gathered;
  const station = stations.length;
  const prepared = photos.flatMap((photo) => {
    const seen = listSeen(photo);
    const usable = seen.filter((line) => {
      const problem = checkLine({ ...photo, stand: pooled.stand }, line, resection);
      if (problem) refusals.push(problem);
      return problem === null;
    });
    if (usable.length < seen.length) warnings.push({ code: 'photo_left_out', subject: photo.id });
    return usable
      .map((line) => prepareLine(survey.wall, station, resection.camera, photo, line))
      .filter((line) => line !== null);
  });
  for (const mark of wrongMarks)
    warnings.push({ code: 'marks_suspect', subject: mark.of?.photo ?? pooled.id });
  const standFrom = wrongStand && photos.find(({ stand }) => stand[wrongStand] !== null);
  if (standFrom) warnings.push({ code: 'stand_suspect', subject: standFrom.id });
  if (prepared.length === 0) return;
  lines.push(...prepared);
  for (const photo of photos) blocks.push(...listBlocks(photo, resection.camera, lines, warnings));
  for (const mark of pooled.marks) {
    if (wrongMarks.includes(mark)) doubts.set(`mark ${marks.length}`, { test: null, weight: 0, kept: true });
    const photo = photos.find(({ id }) => id === (mark.of?.photo ?? pooled.id))!;
    marks.push({ station, photo, mark, index: mark.of?.index ?? photo.marks.indexOf(mark) });
  }
  if (wrongStand) gathered.wrongStands.push({ station, parameter: standParameters[wrongStand] });
  if (!phoneIds.includes(pooled.phone)) phoneIds.push(pooled.phone);
  stations.push({
    photo: photos[0]!,
    photos,
    stand: pooled.stand,
    phone: phoneIds.indexOf(pooled.phone),
    camera: resection.camera,
  });
}

/** The packers under a photo's lines that take part; one too little of which is seen is told. */
function listBlocks(
  photo: Photo,
  camera: Station['camera'],
  lines: readonly SeenLine[],
  warnings: Warning[],
): StationBlock[] {
  return (photo.blocks ?? []).flatMap((block) => {
    const index = lines.findIndex(({ line }) => photo.lines.includes(line) && line.id === block.line);
    if (index < 0) return [];
    const seen = seeBlock(camera, photo, block);
    if (seen) return [{ line: index, seen }];
    warnings.push({ code: 'block_unseen', subject: photo.id });
    return [];
  });
}
