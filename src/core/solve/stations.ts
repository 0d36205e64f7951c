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

/** A survey's network at its start, what has to be told of it, and the phones in the order of their unknowns. */
export interface StartedNetwork {
  readonly network: Network;
  readonly phoneIds: readonly string[];
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
  const phoneIds = survey.phones.map(({ id }) => id);
  const refusals: Refusal[] = [];
  for (const photo of survey.photos) {
    const seen = photo.lines.filter(hasPoints);
    if (seen.length === 0 || seen.length < photo.lines.length)
      warnings.push({ code: 'no_line', subject: photo.id });
    if (seen.length === 0) continue;
    for (const line of seen) {
      const problem = checkLineHeight(photo, line);
      if (problem) refuse(problem);
    }
    const resected = resectSoundly(survey, withTapeMarks(photo), startOffset, warnings);
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
    if (prepared.length === 0) continue;
    lines.push(...prepared);
    blocks.push(...listBlocks(photo, resection, lines, warnings));
    marks.push(...kept.marks.map((mark) => ({ station: stations.length, mark })));
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
  try {
    const resection = resectPhoto(photo, lens, describeMarks(photo));
    if (resection.agrees) return { resection, kept: photo };
    warnings.push({ code: 'marks_suspect', subject: photo.id });
    const [blunder] = listBlunders(photo, lens, describeMarks(photo));
    if (!blunder) return { code: 'stand_weak', photo: photo.id, offsetSigmaMm: Infinity };
    const kept = leaveOut(photo, blunder);
    return { resection: resectPhoto(kept, lens, describeMarks(kept)), kept };
  } catch (error) {
    if (error instanceof Refused && WEAK.includes(error.refusal.code)) return error.refusal;
    throw error;
  }
}

/** The photo without a mistake: without the mark or the two swapped ones, or with that measure of the stand unknown. */
function leaveOut(photo: Photo, blunder: Blunder): Photo {
  if (blunder.kind === 'stand') return { ...photo, stand: { ...photo.stand, [blunder.measure]: null } };
  const wrong = blunder.kind === 'mark' ? [blunder.mark] : [blunder.first, blunder.second];
  return { ...photo, marks: photo.marks.filter((_, index) => !wrong.includes(index)) };
}
