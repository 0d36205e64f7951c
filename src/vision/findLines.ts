import type { Corridor } from '../core/camera/corridor.ts';
import { joinByHand } from '../core/line/byHand.ts';
import { bridgeCrossings } from '../core/line/crossing.ts';
import type { FoundLine } from '../core/line/foundLine.ts';
import type { Restriction } from '../core/line/restriction.ts';
import type { LaserColour, LineAxis, Mask, Pin } from '../core/survey.ts';
import { LineSearch, type Candidate } from './lineSearch.ts';
import type { Picture } from './picture.ts';

/** The line that is looked for; a corridor says where in the picture it must be, pins what it passes through. */
export interface WantedLine {
  readonly axis: LineAxis;
  readonly colour: LaserColour;
  readonly corridor?: Corridor | undefined;
  readonly masks?: readonly Mask[] | undefined;
  readonly pins?: readonly Pin[] | undefined;
}

/**
 * Confidence from which a line is believed: proposed lines, a wanted line anywhere, a wanted line in its
 * corridor, one through pins.
 */
const PROPOSED = 0.3;
const WANTED = 0.3;
const IN_CORRIDOR = 0.1;
const PINNED = 0.06;
/** From here on no other explanation of a wanted line is asked for. */
const UNDOUBTED = 0.97;
/** Steps of confidence that lines are ranked by. */
const GRADES = 10;
/** Two lines of which this share of places is the same are one. */
const SAME_SHARE = 0.3;

/** The laser lines that are to be seen in a picture, best first; none when there is no laser. */
export function findLines(picture: Picture, options: { readonly masks?: readonly Mask[] } = {}): FoundLine[] {
  const search = new LineSearch(picture);
  const candidates: Candidate[] = [];
  for (const axis of ['level', 'plumb'] as const)
    for (const colour of ['red', 'green'] as const)
      candidates.push(...search.find(axis, colour, { masks: options.masks }));
  const believed = candidates
    .map(({ line }) => line)
    .filter(({ confidence }) => confidence >= PROPOSED)
    .sort((a, b) => gradeOf(b) - gradeOf(a) || b.points.length - a.points.length);
  return bridgeFound(
    believed.filter(
      (line, i) =>
        !believed.slice(0, i).some((better) => shareInCommon(line, better, search.cellPx) > SAME_SHARE),
    ),
  );
}

/** Confidence in steps: of lines as sure as each other the longer comes first, for light on a sill or a floor is surely a laser's too. */
const gradeOf = ({ confidence }: FoundLine): number => Math.round(GRADES * confidence);

/** The lines with their crossings bridged. */
function bridgeFound(lines: readonly FoundLine[]): FoundLine[] {
  const points = bridgeCrossings(lines);
  return lines.map((line, i) =>
    points[i] === line.points ? line : { ...line, ...joinByHand([], points[i]!, line.axis) },
  );
}

/** The wanted line of a picture, null when it is not to be seen there. */
export function findLine(picture: Picture, wanted: WantedLine): FoundLine | null {
  return findWanted(new LineSearch(picture), wanted);
}

/**
 * The wanted line of a picture made ready, null when it is not to be seen: first in its corridor, where
 * fainter evidence is enough; then, since the corridor may be wrong (a line labelled with another's height),
 * anywhere. Through its pins only, when it has any: the user has seen it there.
 */
export function findWanted(search: LineSearch, wanted: WantedLine): FoundLine | null {
  const { axis, colour, corridor, masks, pins = [] } = wanted;
  const best = (where: Restriction, least: number): FoundLine | null => {
    const line = mostSure(search.find(axis, colour, where));
    if (!line || line.confidence < least) return null;
    return line.confidence < UNDOUBTED && isOfOtherColour(search, line, where) ? null : line;
  };
  if (pins.length > 0) return best({ masks, pins }, PINNED);
  return (corridor && best({ corridor, masks }, IN_CORRIDOR)) ?? best({ masks }, WANTED);
}

function mostSure(candidates: readonly Candidate[]): FoundLine | null {
  return candidates.reduce<FoundLine | null>(
    (best, { line }) => (best && best.confidence >= line.confidence ? best : line),
    null,
  );
}

/** Whether a line is more surely one of the other laser colour: an over-exposed core can look like either. */
function isOfOtherColour(search: LineSearch, line: FoundLine, where: Restriction): boolean {
  const other = mostSure(search.find(line.axis, line.colour === 'red' ? 'green' : 'red', where));
  return (
    other !== null &&
    other.confidence > line.confidence &&
    shareInCommon(line, other, search.cellPx) > SAME_SHARE
  );
}

/** Share of a line's points that lie in a cell of the picture in which the other has points too. */
function shareInCommon(line: FoundLine, other: FoundLine, cellPx: number): number {
  const cell = (u: number, v: number) => `${Math.floor(u / cellPx)} ${Math.floor(v / cellPx)}`;
  const cells = new Set(other.points.map(({ u, v }) => cell(u, v)));
  return line.points.filter(({ u, v }) => cells.has(cell(u, v))).length / line.points.length;
}
