/** A rectangle of the drawing: left, top, right, bottom in its own unit. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/**
 * An area of the given size about its middle.
 * @example areaAround(5, 5, 4, 2) // { left: 3, top: 4, right: 7, bottom: 6 }
 */
export function areaAround(x: number, y: number, width: number, height: number): Area {
  return { left: x - width / 2, top: y - height / 2, right: x + width / 2, bottom: y + height / 2 };
}

/** Whether two areas share more than an edge. */
export function areOver(a: Area, b: Area): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Whether an area lies wholly in another, edges included. */
export function isWithin(area: Area, whole: Area): boolean {
  const { left, right, top, bottom } = whole;
  return area.left >= left && area.right <= right && area.top >= top && area.bottom <= bottom;
}

/** The four sides of an area, as areas without width: what takes one of them crosses the side. */
export function sidesOfArea({ left, top, right, bottom }: Area): Area[] {
  return [
    { left, right, top, bottom: top },
    { left, right, top: bottom, bottom },
    { left, right: left, top, bottom },
    { left: right, right, top, bottom },
  ];
}

/** A place for a text: its middle and the area it needs. */
export interface TextPlace {
  readonly x: number;
  readonly y: number;
  readonly area: Area;
}

/**
 * Places for a text beside a mark at (x, y) that reaches `reach` from its middle: right, left, above, below, then the four
 * corners; with `leftFirst`, left before right.
 * @example placesBeside(0, 0, 10, 4, 3)[0].x // 9
 */
export function placesBeside(
  x: number,
  y: number,
  width: number,
  font: number,
  reach: number,
  leftFirst = false,
): TextPlace[] {
  const high = 1.1 * font;
  const aside = reach + width / 2 + 0.25 * font;
  const over = reach + high / 2;
  const side = leftFirst ? -1 : 1;
  const steps = [
    [side, 0],
    [-side, 0],
    [0, -1],
    [0, 1],
    [side, -1],
    [side, 1],
    [-side, -1],
    [-side, 1],
  ] as const;
  return steps.map(([right, down]) => {
    // at a corner, above or below the mark, the text may reach over it
    const midX = x + right * (down === 0 ? aside : aside - 0.7 * reach);
    const midY = y + down * over;
    return { x: midX, y: midY, area: areaAround(midX, midY, width, high) };
  });
}

/** The room left in a drawing: labels take theirs one after the other, the most needed first. */
export class Room {
  private readonly taken: Area[] = [];

  constructor(private readonly whole: Area) {}

  /** A room with the same taken, to try things in. */
  copy(): Room {
    const copy = new Room(this.whole);
    copy.taken.push(...this.taken);
    return copy;
  }

  take(area: Area): void {
    this.taken.push(area);
  }

  isFree(area: Area): boolean {
    return isWithin(area, this.whole) && !this.taken.some((each) => areOver(each, area));
  }

  /** Takes the first of the places that is free and gives it back; null, and nothing taken, when none is. */
  takeFirst<Place extends { readonly area: Area }>(places: Iterable<Place>): Place | null {
    for (const place of places) {
      if (!this.isFree(place.area)) continue;
      this.take(place.area);
      return place;
    }
    return null;
  }
}
