import { imageFromWall } from '../../src/core/camera/camera.ts';
import type { Photo, StepBlock } from '../../src/core/survey.ts';
import { makeSurvey, type MadeSurvey, type SurveyOptions } from './survey.ts';
import type { WallKind } from './wall.ts';

export const PACKER_MM = 90;

export interface PackedOptions extends SurveyOptions {
  readonly axis?: 'level' | 'plumb';
  /** The packer's thickness, and what the survey says of it (mm). */
  readonly thickness?: number;
  readonly told?: number;
  /** Where along the line the packer begins (mm). */
  readonly along?: number;
}

export interface PackedSurvey extends MadeSurvey {
  readonly photo: Photo;
  readonly block: StepBlock;
  /** The same survey with the same noise and nothing under the line. */
  readonly bare: MadeSurvey;
}

/** A made survey of one line (at 750 mm) with a packer held under it. */
export function makePacked(seed: number, kind: WallKind, options: PackedOptions = {}): PackedSurvey {
  const { axis = 'level', thickness = 25, told = thickness, along = 1500 } = options;
  const level = axis === 'level';
  const base = { ...options, levels: level ? [750] : [], plumbs: level ? [] : [750] };
  const bare = makeSurvey(seed, kind, base);
  const at = 750;
  const half = 40;
  const packer = level
    ? { along, up: at - half, width: PACKER_MM, height: 2 * half, proud: thickness }
    : { along: at - half, up: along, width: 2 * half, height: PACKER_MM, proud: thickness };
  const made = makeSurvey(seed, kind, { ...base, boxes: [packer] });
  const { survey, truth, cameras } = made;
  const ends = [along, along + PACKER_MM].map((s) => {
    const place = level ? { along: s, up: at } : { along: at, up: s };
    const out = truth(place.along, place.up) + thickness;
    return imageFromWall(cameras[0]!, { ...place, out })[level ? 'u' : 'v'];
  });
  const line = survey.photos[0]!.lines[0]!.id;
  const block = { line, from: ends[0]!, to: ends[1]!, thickness: told, sigma: 0.1 };
  const photo = { ...survey.photos[0]!, blocks: [block] };
  return {
    ...made,
    survey: { ...survey, wall: { ...survey.wall, boxes: [] }, photos: [photo] },
    photo,
    block,
    bare,
  };
}
