import type { OpenPicture } from './picture.ts';
import type { Size, View } from './view.ts';

/** Side of the squares that the full-size picture is cut into, px of it. */
export const TILE_PX = 512;
/** So many of them are kept at most: 24 MiB. */
export const MOST_TILES = 24;
/** So many are cut at one go, so that a finger is not kept waiting. */
const AT_ONCE = 3;
/** A level is sharp enough when it has this share of the screen's own pixels. */
const SHARP_ENOUGH = 0.75;

/** A part of the picture, px. */
interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Which level shows the picture at so many screen px per px, of levels with these px per px from fine to coarse. @example chooseLevel([1, 0.5, 0.25], 0.3) // 2 */
export function chooseLevel(densities: readonly number[], wanted: number): number {
  return Math.max(
    0,
    densities.findLastIndex((density) => density >= wanted * SHARP_ENOUGH),
  );
}

/** Numbers of the tiles that a part of the picture touches, row by row. @example listTiles({ left: 0, top: 0, right: 600, bottom: 100 }, 4000) // [0, 1] */
export function listTiles({ left, top, right, bottom }: Box, widthPx: number): number[] {
  const columns = Math.ceil(widthPx / TILE_PX);
  const found: number[] = [];
  for (let row = Math.floor(top / TILE_PX); row * TILE_PX < bottom; row++)
    for (let column = Math.floor(left / TILE_PX); column * TILE_PX < right; column++)
      found.push(row * columns + column);
  return found;
}

/**
 * A picture at full size, half and small, for painting without ever touching more of it than is seen: the full size in tiles, which a
 * phone's graphics take one by one; half and tiles are made when they are first wanted, and the coarser is painted until then.
 */
export class Levels {
  private half: ImageBitmap | null = null;
  private halfAsked = false;
  private readonly tiles = new Map<number, ImageBitmap>();
  private wanted: number[] = [];
  private cutting = false;
  private closed = false;

  /** `onMore`: something finer than what was painted last is there now. */
  constructor(
    private readonly picture: OpenPicture,
    private readonly onMore: () => void,
  ) {}

  /** Paints the part that the frame shows, as finely as there is now; single pixels show as squares once they are large. */
  paint(context: OffscreenCanvasRenderingContext2D, view: View, frame: Size): void {
    const { picture } = this;
    const seen = {
      left: Math.max(0, Math.floor(-view.x / view.scale)),
      top: Math.max(0, Math.floor(-view.y / view.scale)),
      right: Math.min(picture.width, Math.ceil((frame.width - view.x) / view.scale)),
      bottom: Math.min(picture.height, Math.ceil((frame.height - view.y) / view.scale)),
    };
    if (seen.right <= seen.left || seen.bottom <= seen.top) return;
    context.imageSmoothingEnabled = view.scale < 3;
    const full = picture.full.width / picture.width;
    const ratio = context.getTransform().a;
    const level = chooseLevel([full, full / 2, picture.small.width / picture.width], view.scale * ratio);
    if (level === 0) this.paintTiles(context, view, seen, full);
    else if (level === 1) this.paintHalf(context, view, seen);
    else paintPart(context, picture.small, seen, view, picture.small.width / picture.width);
  }

  close(): void {
    this.closed = true;
    this.half?.close();
    for (const tile of this.tiles.values()) tile.close();
    this.tiles.clear();
  }

  private paintHalf(context: OffscreenCanvasRenderingContext2D, view: View, seen: Box): void {
    const bitmap = this.half ?? this.picture.small;
    if (!this.half) void this.makeHalf();
    paintPart(context, bitmap, seen, view, bitmap.width / this.picture.width);
  }

  /** Paints the tiles that are there, over what is coarser where one is missing; a part of more tiles than are kept, from the whole. */
  private paintTiles(
    context: OffscreenCanvasRenderingContext2D,
    view: View,
    seen: Box,
    density: number,
  ): void {
    const { full } = this.picture;
    const inside: Box = {
      left: seen.left * density,
      top: seen.top * density,
      right: Math.min(full.width, seen.right * density),
      bottom: Math.min(full.height, seen.bottom * density),
    };
    const numbers = listTiles(inside, full.width);
    if (numbers.length > MOST_TILES) return paintPart(context, full, seen, view, density);
    this.wanted = numbers.filter((number) => !this.tiles.has(number));
    if (this.wanted.length > 0) {
      this.paintHalf(context, view, seen);
      this.cutSoon();
    }
    for (const number of numbers) {
      const tile = this.tiles.get(number);
      if (!tile) continue;
      // the last used stands last
      this.tiles.delete(number);
      this.tiles.set(number, tile);
      const { left, top } = this.cornerOf(number);
      const scale = view.scale / density;
      const [x, y] = [view.x + left * scale, view.y + top * scale];
      context.drawImage(tile, x, y, tile.width * scale, tile.height * scale);
    }
  }

  private cornerOf(number: number) {
    const columns = Math.ceil(this.picture.full.width / TILE_PX);
    return { left: (number % columns) * TILE_PX, top: Math.floor(number / columns) * TILE_PX };
  }

  private cutSoon(): void {
    if (this.cutting) return;
    this.cutting = true;
    const whenIdle = globalThis.requestIdleCallback ?? ((work: () => void) => setTimeout(work, 30));
    whenIdle(() => void this.cut());
  }

  /** Cuts some of the wanted tiles, each one px larger than its square so that no seam shows between two. */
  private async cut(): Promise<void> {
    const { full } = this.picture;
    const numbers = this.wanted.splice(0, AT_ONCE);
    const made = await Promise.all(
      numbers.map((number) => {
        const { left, top } = this.cornerOf(number);
        const [width, height] = [full.width - left, full.height - top].map((room) =>
          Math.min(TILE_PX + 1, room),
        );
        return createImageBitmap(full, left, top, width!, height!).catch(() => null);
      }),
    );
    this.cutting = false;
    for (const [i, tile] of made.entries()) {
      if (this.closed) tile?.close();
      else if (tile) this.tiles.set(numbers[i]!, tile);
    }
    if (this.closed) return;
    for (const [number, tile] of this.tiles) {
      if (this.tiles.size <= MOST_TILES) break;
      tile.close();
      this.tiles.delete(number);
    }
    if (this.wanted.length > 0) this.cutSoon();
    else this.onMore();
  }

  /** Reads the picture anew at half its size: a browser does that beside the page, not in its way. */
  private async makeHalf(): Promise<void> {
    if (this.halfAsked) return;
    this.halfAsked = true;
    const { blob, full } = this.picture;
    const resizeWidth = Math.round(full.width / 2);
    const half = await createImageBitmap(blob, {
      imageOrientation: 'from-image',
      resizeWidth,
      resizeHeight: Math.round(full.height / 2),
      resizeQuality: 'medium',
    }).catch(() => null);
    if (this.closed) return half?.close();
    this.half = half;
    if (half) this.onMore();
  }
}

/** Paints a part of the picture (px) from a bitmap that has `density` px for each of its px. */
export function paintPart(
  context: OffscreenCanvasRenderingContext2D,
  bitmap: ImageBitmap,
  { left, top, right, bottom }: Box,
  view: View,
  density: number,
): void {
  const [width, height] = [right - left, bottom - top];
  context.drawImage(
    bitmap,
    left * density,
    top * density,
    width * density,
    height * density,
    view.x + left * view.scale,
    view.y + top * view.scale,
    width * view.scale,
    height * view.scale,
  );
}
