import { makePen } from '../look.ts';
import type { Area } from '../room.ts';
import { Room } from '../room.ts';
import { element, formatNumber, type SvgNode } from '../tree.ts';
import { drawBoardsOnPhoto, nameBoardsOnPhoto } from './photoBoards.ts';
import { layCaption } from './photoCaption.ts';
import { drawContours, drawThin, seeBed, type SeenBed } from './photoContours.ts';
import { drawDabsOnPhoto, drawPackingOnPhoto, drawWallOnPhoto } from './photoFixing.ts';
import { drawScrewsOnPhoto, seeScrews } from './photoScrews.ts';
import type { PhotoFit, PhotoSight, PictureSize, PlanOfWall } from './photoSight.ts';
import { drawHackedOnPhoto, drawHighPointsOnPhoto, seeHighPoints } from './photoSpots.ts';

/** What is drawn; the wall's own edges are always. */
export interface PhotoLayers {
  /** The photograph paled, so that lines stand out and print well. */
  readonly pale: boolean;
  readonly contours: boolean;
  /** Front (`face`) or back of the boards; null = none. */
  readonly boards: 'face' | 'back' | null;
  readonly screws: boolean;
  readonly spots: boolean;
  readonly packing: boolean;
  readonly dabs: boolean;
}

/** What is shown first, and in a picture that is saved without a choice. */
export const usualLayers: PhotoLayers = {
  pale: false,
  contours: true,
  boards: 'face',
  screws: true,
  spots: true,
  packing: false,
  dabs: false,
};

export interface PhotoDrawing {
  /** Size of the upright picture: the drawing's own unit is its px. */
  readonly size: PictureSize;
  readonly node: SvgNode;
  /** Screws in the picture, and those of them whose figure found no room. */
  readonly screws: readonly string[];
  readonly unwritten: readonly string[];
}

export interface PhotoDrawingOptions {
  readonly layers: PhotoLayers;
  /** Size of the letters, px of the picture; missing = as for print. */
  readonly fontPx?: number;
  /** The words of a picture that is saved, with version and date; missing = no caption. */
  readonly note?: string;
  /** The bed as seen before from here, to be used again. */
  readonly bed?: SeenBed;
}

/** Letters on a picture as share of its shorter side: 3 to 4 mm on a sheet of A4. */
const LETTER_SHARE = 1 / 60;

/** Size of letters (px) for a picture that is printed. @example letterPx({ widthPx: 4000, heightPx: 3000 }) // 50 */
export const letterPx = ({ widthPx, heightPx }: PictureSize): number =>
  LETTER_SHARE * Math.min(widthPx, heightPx);

/** Letters on a screen (css px). */
const SCREEN_LETTER = 13;

/**
 * Size of letters (px of the picture) that read on a screen which shows the picture at a scale (css px for one px), in steps so that a
 * drawing holds for a while of zooming; 0 where nothing is shown.
 * @example screenLetterPx(0.25) // 52
 * @example screenLetterPx(0.26) // 52
 */
export function screenLetterPx(scale: number): number {
  if (!(scale > 0)) return 0;
  return SCREEN_LETTER / 2 ** (Math.round(2 * Math.log2(scale)) / 2);
}

/** How much of the white veil covers a paled photograph. */
const VEIL = 0.45;

/**
 * The plan in the perspective of a photograph, to be laid over it: each thing where it will be in space. Contours, high points, packing and
 * adhesive lie on the masonry, screw heads on the bed plane, boards on it or in front of it by their thickness. Drawn in px of the picture.
 */
export function drawPlanOnPhoto(
  wall: PlanOfWall,
  photo: string,
  { sight, fit }: { readonly sight: PhotoSight; readonly fit: PhotoFit },
  { layers, fontPx, note, bed }: PhotoDrawingOptions,
): PhotoDrawing {
  const { survey, plan } = wall;
  const { widthPx, heightPx } = sight.camera;
  const size = { widthPx, heightPx };
  const pen = makePen(fontPx ?? letterPx(size));
  const whole: Area = { left: 0, top: 0, right: widthPx, bottom: heightPx };
  const room = new Room(whole);
  const { units } = survey;
  const seen = layers.contours || layers.spots ? (bed ?? seeBed(wall, sight)) : null;
  const isUnsure = layers.contours && (seen?.unsure.length ?? 0) > 0;
  const spots = seeScrews(sight, plan.screws).map(({ head }) => head);
  const caption =
    note === undefined ? null : layCaption({ wall, photo, fit, layers, isUnsure, note }, size, spots, pen);
  if (caption) room.take(caption.area);
  const peaks = layers.spots ? seeHighPoints(sight, plan, pen, room) : [];
  const screws = layers.screws ? drawScrewsOnPhoto(sight, plan.screws, units, pen, room) : null;
  const high = drawHighPointsOnPhoto(peaks, plan, units, pen, room);
  const hacked = layers.spots ? drawHackedOnPhoto(sight, plan.hacked, units, pen, room) : [];
  const lift = sight.onPlane(layers.boards === 'face' ? survey.lining.board.thickness : 0);
  const names = layers.boards ? nameBoardsOnPhoto(sight, plan.boards, lift, units, pen, room) : [];
  const contours = layers.contours && seen ? drawContours(seen, units, pen, room) : null;
  const thin = layers.spots && seen ? drawThin(sight, seen, (0.6 * pen.font) / fit.pxPerMm, pen) : [];
  const node = element(
    'svg',
    {
      viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(heightPx)}`,
      width: widthPx,
      height: heightPx,
    },
    ...(layers.pale
      ? [
          element('rect', {
            x: 0,
            y: 0,
            width: widthPx,
            height: heightPx,
            fill: '#ffffff',
            'fill-opacity': VEIL,
          }),
        ]
      : []),
    ...drawWallOnPhoto(sight, survey, pen),
    ...(layers.packing ? drawPackingOnPhoto(sight, plan.packing.strips, pen) : []),
    ...(layers.dabs ? drawDabsOnPhoto(sight, plan.dabs, pen) : []),
    ...thin,
    ...(contours?.lines ?? []),
    ...(layers.boards ? drawBoardsOnPhoto(sight, plan.boards, lift, pen) : []),
    ...(contours?.labels ?? []),
    ...names,
    ...(screws?.marks ?? []),
    ...hacked,
    ...high,
    ...(screws?.labels ?? []),
    ...(caption ? [caption.draw(screws?.unwritten ?? [])] : []),
  );
  return {
    size,
    node,
    screws: (screws?.seen ?? []).map(({ screw }) => screw.id),
    unwritten: screws?.unwritten ?? [],
  };
}
