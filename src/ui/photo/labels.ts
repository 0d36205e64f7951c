import type { Size, Spot } from './view.ts';

/** Where a label stands beside its mark: right or left of it, above or below. */
export interface LabelPlace {
  readonly right: boolean;
  readonly above: boolean;
}

/** From a mark to the near end of its label, and a label's height (css px). */
const ASIDE_PX = 13;
const HEIGHT_PX = 16;
/** Mean width of a character of a label (css px). */
const CHARACTER_PX = 8;

const PLACES: readonly LabelPlace[] = [
  { right: true, above: true },
  { right: false, above: true },
  { right: true, above: false },
  { right: false, above: false },
];

interface Box extends Size {
  readonly left: number;
  readonly top: number;
}

const overlaps = (one: Box, other: Box) =>
  one.left < other.left + other.width &&
  other.left < one.left + one.width &&
  one.top < other.top + other.height &&
  other.top < one.top + one.height;

/**
 * A place for every label, in order, the first that neither leaves the frame nor covers another mark or a label placed
 * before; the usual one where there is none.
 */
export function placeLabels(
  marks: readonly (Spot & { readonly label: string })[],
  frame: Size,
): readonly LabelPlace[] {
  const whole: Box = { left: 0, top: 0, ...frame };
  const signs = marks.map(({ x, y }): Box => ({ left: x - 9, top: y - 9, width: 18, height: 18 }));
  const labels: Box[] = [];
  return marks.map((mark, index) => {
    const others = signs.filter((_, at) => at !== index);
    const fits = (place: LabelPlace) => {
      const box = boxOf(mark, place);
      const inside =
        box.left >= whole.left &&
        box.top >= whole.top &&
        box.left + box.width <= whole.width &&
        box.top + box.height <= whole.height;
      return inside && ![...others, ...labels].some((other) => overlaps(box, other));
    };
    const place = PLACES.find(fits) ?? PLACES[0]!;
    labels.push(boxOf(mark, place));
    return place;
  });
}

function boxOf(mark: Spot & { readonly label: string }, { right, above }: LabelPlace): Box {
  const width = mark.label.length * CHARACTER_PX;
  const middle = mark.y + (above ? -ASIDE_PX : ASIDE_PX);
  return {
    left: right ? mark.x + ASIDE_PX : mark.x - ASIDE_PX - width,
    top: middle - HEIGHT_PX / 2,
    width,
    height: HEIGHT_PX,
  };
}
