import type { LaserLine, Photo } from '../core/survey.ts';

/**
 * Where a place of a picture is in the same picture at another size (px); pixel centres are whole numbers in both.
 * @example placeAtScale(3.5, 0.25) // 0.5
 */
export const placeAtScale = (px: number, scale: number): number => (px + 0.5) * scale - 0.5;

/** A photo of the survey as if its picture had been taken `scale` times as large: what the finder reads of it. */
export function scalePhoto(photo: Photo, scale: number): Photo {
  const place = <T extends { readonly u: number; readonly v: number }>(at: T): T => ({
    ...at,
    u: placeAtScale(at.u, scale),
    v: placeAtScale(at.v, scale),
  });
  return {
    ...photo,
    marks: photo.marks.map((mark) => ({ ...place(mark), sigma: mark.sigma * scale })),
    tapes: photo.tapes.map(({ from, to, axis, pitch }) => ({ from, to, axis, pitch })),
    masks: photo.masks.map((mask) => ({
      ...place(mask),
      width: mask.width * scale,
      height: mask.height * scale,
    })),
    lines: photo.lines.map((line) => ({
      ...scaleLine(line, scale, scale),
      ...(line.pins ? { pins: line.pins.map(place) } : {}),
    })),
    ...(photo.blocks
      ? {
          blocks: photo.blocks.map((block) => ({
            ...block,
            from: placeAtScale(block.from, scale),
            to: placeAtScale(block.to, scale),
          })),
        }
      : {}),
  };
}

/** A line's points and gaps at another size of its picture, wider and higher by a factor of their own. */
export function scaleLine(line: LaserLine, scaleU: number, scaleV: number): LaserLine {
  const level = line.sheet.axis === 'level';
  const along = level ? scaleU : scaleV;
  const across = level ? scaleV : scaleU;
  return {
    ...line,
    points: line.points.map((point) => ({
      ...point,
      u: placeAtScale(point.u, scaleU),
      v: placeAtScale(point.v, scaleV),
      sigma: point.sigma * across,
    })),
    gaps: line.gaps.map((gap) => ({
      ...gap,
      from: placeAtScale(gap.from, along),
      to: placeAtScale(gap.to, along),
    })),
  };
}
