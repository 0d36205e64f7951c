import { priorFocal } from '../../core/camera/evidence.ts';
import type { PhotoPlan } from '../../core/camera/plan.ts';
import type { LineAxis, Survey } from '../../core/survey.ts';

/** A phone's usual picture (px), as long as the survey has none; common practice, no source. */
const USUAL_PICTURE = { longSidePx: 4000, shortSidePx: 3000 };
const UNKNOWN_LENS_SIGMA = 0.01;
/** Sigmas of a clicked mark, of a line's point (px), of a rule reading (mm): as the survey takes them. */
const MARK_SIGMA_PX = 1;
const POINT_SIGMA_PX = 0.15;
const READING_SIGMA_MM = 0.7;
/** Where one starts: a line at this height, the phone held at the eye, so far off that the wall is in view (mm). */
const LINE_MM = 600;
const EYE_MM = 1600;
const OFF_PER_LENGTH = 0.8;

/** A photograph to plan for a survey's wall, with the phone, lens and picture that the survey knows; the rest as usual. */
export function startPlan(survey: Survey, axis: LineAxis): PhotoPlan {
  const { wall, phones, photos, readings } = survey;
  const last = photos.findLast(({ widthPx, heightPx }) => widthPx! > 0 && heightPx! > 0);
  const sides = last ? [last.widthPx!, last.heightPx!].sort((a, b) => b - a) : null;
  const lens = phones[0]?.lens;
  const level = axis === 'level';
  const out = Math.round((OFF_PER_LENGTH * (level ? wall.width : wall.height)) / 50) * 50;
  const middle = Math.round(wall.width / 2);
  const sigmas = readings.map(({ sigma }) => sigma).sort((a, b) => a - b);
  return {
    wall,
    sheet: { axis, at: level ? Math.min(LINE_MM, wall.height / 2) : middle },
    stand: { along: level ? middle : middle + Math.round(out / 30) * 10, up: EYE_MM, out },
    focal35Mm: priorFocal(last?.focal35Mm).focal35Mm,
    longSidePx: sides?.[0] ?? USUAL_PICTURE.longSidePx,
    shortSidePx: sides?.[1] ?? USUAL_PICTURE.shortSidePx,
    lens: { k1: lens?.k1 ?? 0, sigma: lens?.sigma ?? UNKNOWN_LENS_SIGMA },
    markCount: 4,
    markSigmaPx: MARK_SIGMA_PX,
    standSigmaMm: last?.stand.sigma ?? 10,
    pointSigmaPx: POINT_SIGMA_PX,
    readingSigmaMm: sigmas[sigmas.length >> 1] ?? READING_SIGMA_MM,
    roomMm: Math.max(4000, out + 500),
  };
}
