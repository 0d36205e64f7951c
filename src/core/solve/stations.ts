import { seeBlock } from '../camera/block.ts';
import { listBlunders, type Blunder } from '../camera/blunder.ts';
import { checkLine, checkLineHeight } from '../camera/lineCheck.ts';
import { resectPhoto, type Resection } from '../camera/resect.ts';
import { refuse, Refused, type Refusal, type Warning } from '../refusal.ts';
import type { LaserLine, Photo, Survey } from '../survey.ts';
import { withTapeMarks } from '../tape/tapeMarks.ts';
import {
  prepareLine,
  readLens,
  type Network,
  type SeenLine,
  type Station,
  type StationBlock,
  type StationMark,
} from './network.ts';
import type { FailedTest, LeftOut } from './settle.ts';
import { LOOSE_MARK } from './snoop.ts';

/** A survey's network at its start, what has to be told of it, and the phones in the order of their unknowns. */
export interface StartedNetwork {
  readonly network: Network;
  readonly phoneIds: readonly string[];
  /** What takes no part or little from the start: readings left out by hand, marks that contradict the rest of their photo. */
  readonly doubts: LeftOut;
  readonly warnings: readonly Warning[];
}

/** How far the wall may lie off its first guess before it is solved, mm (sigma): what a mark's offset is not known to. */
const RELIEF_MM = 10;
/** Refusals that leave a photo out while others remain. */
const WEAK: readonly string[] = ['stand_weak', 'stand_on_sheet'];

/**
 * Resects every photograph that has line points and gathers what can be solved together. A photograph too weak to say
 * anything is left out with a warning; so is one whose marks contradict each other beyond a single wrong mark.
 * @throws line_height_missing, marks_few, marks_at_one_place, mark_outside_picture, stand_missing; stand_weak or
 * stand_on_sheet where nothing else was measured
 */
export function startNetwork(
  survey: Survey,
  startOffset: (alongMm: number, upMm: number) => number,
): StartedNetwork {
  const warnings: Warning[] = [];
  const stations: Station[] = [];
  const lines: SeenLine[] = [];
  const marks: StationMark[] = [];
  const blocks: StationBlock[] = [];
  const doubts = new Map<string, FailedTest>();
  survey.readings.forEach(({ leftOut }, k) => {
    if (leftOut) doubts.set(`reading ${k}`, { test: null, weight: 0, byHand: true });
  });
  const phoneIds = survey.phones.map(({ id }) => id);
  const refusals: Refusal[] = [];
  for (const photo of survey.photos) {
    if (photo.leftOut) continue;
    const wanted = photo.lines.filter((line) => !line.leftOut);
    const seen = wanted.filter(hasPoints);
    const allByHand = wanted.length === 0 && photo.lines.length > 0;
    if (!allByHand && (seen.length === 0 || seen.length < wanted.length))
      warnings.push({ code: 'no_line', subject: photo.id });
    if (seen.length === 0) continue;
    for (const line of seen) {
      const problem = checkLineHeight(photo, line);
      if (problem) refuse(problem);
    }
    const all = withTapeMarks(photo);
    const believed = { ...all, marks: all.marks.filter((mark) => !mark.leftOut) };
    const resected = resectSoundly(survey, believed, startOffset, warnings);
    if ('code' in resected) {
      refusals.push(resected);
      warnings.push({ code: 'photo_left_out', subject: photo.id });
      continue;
    }
    const { resection, kept } = resected;
    const usable = seen.filter((line) => {
      const problem = checkLine(photo, line, resection);
      if (problem) refusals.push(problem);
      return problem === null;
    });
    const prepared = usable
      .map((line) => prepareLine(survey.wall, stations.length, resection.camera, line, photo.blocks))
      .filter((line) => line !== null);
    if (usable.length < seen.length) warnings.push({ code: 'photo_left_out', subject: photo.id });
    if (prepared.length === 0) {
      if (kept !== believed) warnings.push({ code: 'marks_suspect', subject: photo.id });
      continue;
    }
    lines.push(...prepared);
    blocks.push(...listBlocks(photo, resection, lines, warnings));
    for (const mark of believed.marks) {
      if (!kept.marks.includes(mark))
        doubts.set(`mark ${marks.length}`, { test: null, weight: LOOSE_MARK ** -2 });
      marks.push({ station: stations.length, mark, index: photo.marks.indexOf(mark) });
    }
    if (!phoneIds.includes(photo.phone)) phoneIds.push(photo.phone);
    stations.push({
      photo,
      stand: kept.stand,
      phone: phoneIds.indexOf(photo.phone),
      camera: resection.camera,
    });
  }
  if (stations.length === 0 && survey.readings.length === 0 && refusals.length > 0) refuse(refusals[0]!);
  const phones = phoneIds.map((id) => readLens(survey, id));
  return {
    network: { phones, stations, lines, marks, readings: survey.readings, blocks },
    phoneIds,
    doubts,
    warnings,
  };
}

/** The packers under a photo's lines that take part; one too little of which is seen is told. */
function listBlocks(
  photo: Photo,
  { camera }: Resection,
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

/** Whether a line has any point that was not switched off. */
export function hasPoints(line: LaserLine): boolean {
  return line.points.some((point) => point.state !== 'off');
}

/**
 * The resection of a photo, without what contradicts the rest if one mistake explains it (a mark, two marks swapped, a measure
 * of the stand); the refusal where the photo is too weak or no single mistake does.
 */
function resectSoundly(
  survey: Survey,
  photo: Photo,
  startOffset: (alongMm: number, upMm: number) => number,
  warnings: Warning[],
): { resection: Resection; kept: Photo } | Refusal {
  const lens = readLens(survey, photo.phone);
  const describeMarks = (kept: Photo) => ({
    markOutMm: kept.marks.map(({ along, up }) => startOffset(along, up)),
    markOutSigmaMm: RELIEF_MM,
  });
  let agrees = true;
  try {
    const resection = resectPhoto(photo, lens, describeMarks(photo));
    agrees = resection.agrees;
    if (agrees) return { resection, kept: photo };
    const [blunder] = listBlunders(photo, lens, describeMarks(photo));
    if (!blunder) refuse({ code: 'stand_weak', photo: photo.id, offsetSigmaMm: Infinity });
    const kept = leaveOut(photo, blunder);
    if (blunder.kind === 'stand') warnings.push({ code: 'marks_suspect', subject: photo.id });
    return { resection: resectPhoto(kept, lens, describeMarks(kept)), kept };
  } catch (error) {
    if (!(error instanceof Refused && WEAK.includes(error.refusal.code))) throw error;
    if (!agrees) warnings.push({ code: 'marks_suspect', subject: photo.id });
    return error.refusal;
  }
}

/** The photo without a mistake: without the mark or the two swapped ones, or with that measure of the stand unknown. */
function leaveOut(photo: Photo, blunder: Blunder): Photo {
  if (blunder.kind === 'stand') return { ...photo, stand: { ...photo.stand, [blunder.measure]: null } };
  const wrong = blunder.kind === 'mark' ? [blunder.mark] : [blunder.first, blunder.second];
  return { ...photo, marks: photo.marks.filter((_, index) => !wrong.includes(index)) };
}
