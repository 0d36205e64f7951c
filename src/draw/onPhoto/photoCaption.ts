import { formatLength, writeLength, type Units } from '../length.ts';
import { look, type Pen } from '../look.ts';
import type { Area } from '../room.ts';
import { label, wrapText } from '../text.ts';
import { element, type SvgNode } from '../tree.ts';
import type { PhotoLayers } from './planOnPhoto.ts';
import type { PhotoFit, PictureSize, PlanOfWall } from './photoSight.ts';
import type { Point } from '../rings.ts';

/** What a saved picture says of itself. */
export interface CaptionInput {
  readonly wall: PlanOfWall;
  readonly photo: string;
  readonly fit: PhotoFit;
  readonly layers: PhotoLayers;
  /** Whether parts of the wall in the picture are not known well. */
  readonly isUnsure: boolean;
  /** Version and date, in words. */
  readonly note: string;
}

/** How well the drawing fits, in words. */
export function sayFit({ fitMm }: PhotoFit, units: Units): string {
  return `Drawn to about ±${formatLength(Math.max(1, fitMm), units, 1)} on the wall`;
}

/** What must be borne in mind wherever the picture is looked at. */
export const photoCautions =
  'Not to measure from: set out by the plan. Trace hidden cables and pipes with a detector before drilling.';

function explain({ wall: { survey }, layers, isUnsure }: CaptionInput): string {
  const unit = survey.units === 'inch' ? 'inches' : 'mm';
  const { max } = survey.lining.bed;
  return [
    ...(layers.contours
      ? [
          `Blue lines: bed depth in ${unit}, heavy dashes where it passes a limit (${writeLength(max, survey.units, 1)})`,
        ]
      : []),
    ...(layers.boards ? [`black lines: ${layers.boards === 'face' ? 'front' : 'back'} of the boards`] : []),
    ...(layers.screws
      ? [`cross: drill here; ring: head of the gauge screw, so far out of the wall (${unit})`]
      : []),
    ...(layers.spots ? ['red: high points and what to hack off'] : []),
    ...(isUnsure ? ['red dots: measure again there'] : []),
    ...(layers.packing ? ['violet: packing strips'] : []),
    ...(layers.dabs ? ['brown: adhesive'] : []),
  ].join('; ');
}

const isIn =
  ({ left, right, top, bottom }: Area) =>
  ([x, y]: Point) =>
    x >= left && x <= right && y >= top && y <= bottom;

export interface Caption {
  readonly area: Area;
  draw(unwritten: readonly string[]): SvgNode;
}

/**
 * A band of words along the top or the bottom of the picture, wherever it covers fewer of the spots that matter; its room is taken first,
 * and the words that depend on what found room are drawn last.
 */
export function layCaption(
  input: CaptionInput,
  size: PictureSize,
  spots: readonly Point[],
  pen: Pen,
): Caption {
  const { wall, photo, fit, note } = input;
  const { survey } = wall;
  const small = 0.8 * pen.font;
  const edge = 0.6 * pen.font;
  const lineHigh = 1.35 * small;
  const wrap = (text: string) => wrapText(text, (size.widthPx - 2 * edge) / 1.12, small);
  const title = `${survey.title}, photo ${photo}. ${sayFit(fit, survey.units)}.${note === '' ? '' : ` ${note}.`}`;
  const body = `${explain(input)}.`;
  // one line is kept for screws that find no room
  const rowsMost = [title, body, photoCautions].flatMap(wrap).length + 1;
  const pad = 0.4 * pen.font;
  const high = rowsMost * lineHigh + 2 * pad;
  const across = { left: 0, right: size.widthPx };
  const below: Area = { ...across, top: size.heightPx - high, bottom: size.heightPx };
  const above: Area = { ...across, top: 0, bottom: high };
  const covers = (area: Area) => spots.filter(isIn(area)).length;
  const area = covers(above) < covers(below) ? above : below;
  return {
    area,
    draw(unwritten) {
      const which = unwritten.length > 8 ? `${unwritten.length} screws` : unwritten.join(', ');
      const missing =
        unwritten.length === 0 ? [] : [`No room for the figures of ${which}: see the screw list.`];
      const rows = [
        ...wrap(title).map((text) => ({ text, fill: look.pencil, bold: true })),
        ...wrap(body).map((text) => ({ text, fill: look.pencil, bold: false })),
        ...wrap(photoCautions).map((text) => ({ text, fill: look.signal, bold: true })),
        ...missing.map((text) => ({ text, fill: look.signal, bold: false })),
      ];
      const height = rows.length * lineHigh + 2 * pad;
      const top = area === above ? 0 : size.heightPx - height;
      return element(
        'g',
        {},
        element('rect', {
          ...{ x: 0, y: top, width: size.widthPx, height },
          fill: look.sheet,
          'fill-opacity': 0.88,
        }),
        ...rows.map(({ text, fill, bold }, k) =>
          label(text, edge, top + pad + (k + 0.5) * lineHigh, { size: small, bold, fill }),
        ),
      );
    },
  };
}
