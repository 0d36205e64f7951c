import type { Camera } from '../core/camera/camera.ts';
import { knownSheet } from '../core/camera/sheet.ts';
import { joinByHand } from '../core/line/byHand.ts';
import { findOffWall } from '../core/line/offWall.ts';
import { corridorSpan } from '../core/line/restriction.ts';
import type { Corridor } from '../core/camera/corridor.ts';
import type { FoundLine } from '../core/line/foundLine.ts';
import type { LaserLine, Photo, Survey } from '../core/survey.ts';
import { changePhoto, runAxis } from './editPhoto.ts';
import { asFiled } from './filed.ts';
import { freeId } from './newSurvey.ts';

/** A proposal is the line itself where most of its points lie within this of the line's own, at the same place along (px). */
const SAME_PX = 3;
/** Share of a proposal's points that must be the line's, or lie where its sheet must be seen. */
const MOST = 0.5;

/** Index of the line of a photo that a proposal shows already; -1 where none does. */
export function findTaken(photo: Photo, proposal: FoundLine): number {
  const run = runAxis(proposal.axis);
  const across = run === 'u' ? 'v' : 'u';
  return photo.lines.findIndex((line) => {
    if (line.sheet.axis !== proposal.axis) return false;
    const own = new Map(line.points.map((point) => [Math.round(point[run]), point[across]]));
    const shared = proposal.points.filter(
      (point) => Math.abs((own.get(Math.round(point[run])) ?? NaN) - point[across]) < SAME_PX,
    );
    // what is off the wall's face was left out when it was taken
    return shared.length > MOST * Math.min(own.size, proposal.points.length);
  });
}

/**
 * Index of the proposal that the survey asks for by a line's axis, colour and, where the camera is known, the corridor in
 * which its sheet must be seen; -1 where none is.
 */
export function findAsked(
  line: LaserLine,
  proposals: readonly FoundLine[],
  corridor: Corridor | null,
): number {
  const { axis } = line.sheet;
  const run = runAxis(axis);
  return proposals.findIndex((proposal) => {
    if (proposal.axis !== axis || proposal.colour !== line.colour) return false;
    if (!corridor) return true;
    const inside = proposal.points.filter((point) => {
      const { from, to } = corridorSpan(corridor, axis, point[run]);
      const across = run === 'u' ? point.v : point.u;
      return across >= from && across <= to;
    });
    return inside.length > MOST * proposal.points.length;
  });
}

/**
 * The survey with a proposal taken over as a line of a photo, its points at once: by a line of its kind without points, else by
 * the line `onto` if that runs the same way or nothing is known of it yet, else as one more line, whose place is still to be typed. Pins of
 * another place are given up. Where the camera and the line's place are known, what is off the wall's face (a floor, a reveal)
 * is left out, as when the line is looked for.
 */
export function takeProposal(
  survey: Survey,
  photoId: string,
  onto: string | null,
  proposal: FoundLine,
  camera: Camera | null = null,
): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const { axis, colour } = proposal;
    const empty = photo.lines.filter((line) => line.points.length === 0);
    const chosen = photo.lines.find(({ id }) => id === onto);
    const fits = (line: LaserLine) =>
      line.sheet.axis === axis || (line.points.length === 0 && line.sheet.at === null);
    const target =
      empty.find((line) => line.sheet.axis === axis && line.colour === colour) ??
      (chosen && fits(chosen) ? chosen : empty.find(fits));
    const sheet = { axis, at: target?.sheet.axis === axis ? target.sheet.at : null };
    const seen: LaserLine = {
      ...target,
      id: target?.id ?? freeId('l', photo.lines),
      colour,
      sheet,
      points: proposal.points,
      gaps: proposal.gaps,
      pins: undefined,
    };
    const off =
      camera && sheet.at !== null ? findOffWall(seen.points, camera, knownSheet(seen), survey.wall) : [];
    const onWall = seen.points.filter((_, i) => !off[i]);
    const taken = off.includes(true) ? { ...seen, ...joinByHand([], onWall, axis) } : seen;
    const lines = target
      ? photo.lines.map((line) => (line === target ? taken : line))
      : [...photo.lines, taken];
    return { ...photo, lines: asFiled(survey, { ...photo, lines }).lines };
  });
}

/** A line this sure is taken for the one a photo shows, if no other comes within `CLEARLY` of it: own choice, no source. */
const SURE = 0.5;
const CLEARLY = 0.2;

/**
 * The survey with a photo's line running and shining as the one line plainly seen in it; the same survey where something was said of the
 * line already, or where none or several are seen.
 */
export function adoptSeen(survey: Survey, photoId: string, proposals: readonly FoundLine[]): Survey {
  const [best, second] = [...proposals].sort((one, other) => other.confidence - one.confidence);
  if (!best || best.confidence < SURE || (second && best.confidence - second.confidence < CLEARLY))
    return survey;
  if (!survey.photos.some(({ id }) => id === photoId)) return survey;
  return changePhoto(survey, photoId, (photo) => {
    const [line] = photo.lines;
    const untouched = photo.lines.length === 1 && line!.points.length === 0 && line!.sheet.at === null;
    const { axis, colour } = best;
    if (!untouched || (line!.sheet.axis === axis && line!.colour === colour)) return photo;
    return { ...photo, lines: [{ ...line!, colour, sheet: { axis, at: null }, pins: undefined }] };
  });
}
