import type { Survey, WallRect } from '../core/survey.ts';
import { listThings, type Thing } from './wallThings.ts';

/** What looks wrong about where a thing stands; it is kept as it is. */
export type WallDoubt =
  | { readonly code: 'beyond'; readonly sides: readonly ('left' | 'right' | 'floor' | 'ceiling')[] }
  | { readonly code: 'over'; readonly other: Thing };

/** Less than this does not count (mm): rounding. */
const CLOSE_MM = 0.5;

function sidesBeyond({ along, up, width, height }: WallRect, wall: Survey['wall']) {
  return [
    ...(along < -CLOSE_MM ? (['left'] as const) : []),
    ...(along + width > wall.width + CLOSE_MM ? (['right'] as const) : []),
    ...(up < -CLOSE_MM ? (['floor'] as const) : []),
    ...(up + height > wall.height + CLOSE_MM ? (['ceiling'] as const) : []),
  ];
}

const areOver = (one: WallRect, other: WallRect) =>
  one.along < other.along + other.width - CLOSE_MM &&
  other.along < one.along + one.width - CLOSE_MM &&
  one.up < other.up + other.height - CLOSE_MM &&
  other.up < one.up + one.height - CLOSE_MM;

/** What looks wrong about things on the wall, by key: beyond the wall, or over an opening or box. Lines may cross all of them. */
export function listWallDoubts(survey: Survey): ReadonlyMap<string, readonly WallDoubt[]> {
  const things = listThings(survey, ['opening', 'box', 'reading', 'line']);
  const holes = things.filter(({ kind }) => kind === 'opening' || kind === 'box');
  const found = things.map((thing): [string, WallDoubt[]] => {
    const sides = sidesBeyond(thing.rect, survey.wall);
    const over =
      thing.kind === 'line'
        ? []
        : holes.filter((each) => each.key !== thing.key && areOver(thing.rect, each.rect));
    return [
      thing.key,
      [
        ...(sides.length > 0 ? [{ code: 'beyond', sides } as const] : []),
        ...over.map((other) => ({ code: 'over', other }) as const),
      ],
    ];
  });
  return new Map(found.filter(([, doubts]) => doubts.length > 0));
}
