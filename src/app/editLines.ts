import type { ImagePoint } from '../core/camera/frames.ts';
import type { LaserColour, LineAxis, Mask, Sheet, Survey } from '../core/survey.ts';
import { changeLine, changePhoto, itemAt } from './editPhoto.ts';
import { freeId } from './newSurvey.ts';

/**
 * The survey with a line's sheet of light changed in part: its axis or where it stands (mm; null = not typed). Another axis
 * means another line in the picture, so points, gaps and pins are given up and the line can be looked for anew.
 */
export function setSheet(survey: Survey, photoId: string, lineId: string, part: Partial<Sheet>): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    const sheet = { ...line.sheet, ...part };
    if (sheet.axis === line.sheet.axis && sheet.at === line.sheet.at) return line;
    return sheet.axis === line.sheet.axis
      ? { ...line, sheet }
      : { ...line, sheet, points: [], gaps: [], pins: undefined };
  });
}

/** The survey with a line's colour changed; its points stay until the line is looked for again. */
export function setColour(survey: Survey, photoId: string, lineId: string, colour: LaserColour): Survey {
  return changeLine(survey, photoId, lineId, (line) => (line.colour === colour ? line : { ...line, colour }));
}

/** The survey with one more line to look for in a photo, under the first free id. */
export function addLine(survey: Survey, photoId: string, axis: LineAxis, colour: LaserColour): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const line = { id: freeId('l', photo.lines), colour, sheet: { axis, at: null }, points: [], gaps: [] };
    return { ...photo, lines: [...photo.lines, line] };
  });
}

/** The survey without one line of a photo. */
export function removeLine(survey: Survey, photoId: string, lineId: string): Survey {
  return changePhoto(survey, photoId, (photo) => ({
    ...photo,
    lines: photo.lines.filter((line) => line.id !== lineId),
  }));
}

/** The survey with one more part of a photo to leave out, given by two opposite corners (px, as `from` and its size). */
export function addMask(survey: Survey, photoId: string, mask: Mask): Survey {
  const upright: Mask = {
    u: Math.min(mask.u, mask.u + mask.width),
    v: Math.min(mask.v, mask.v + mask.height),
    width: Math.abs(mask.width),
    height: Math.abs(mask.height),
  };
  if (upright.width === 0 || upright.height === 0) return survey;
  return changePhoto(survey, photoId, (photo) => ({ ...photo, masks: [...photo.masks, upright] }));
}

/** The survey without one of the parts of a photo that are left out. */
export function removeMask(survey: Survey, photoId: string, index: number): Survey {
  return changePhoto(survey, photoId, (photo) => {
    itemAt(photo.masks, index, 'mask');
    return { ...photo, masks: photo.masks.filter((_, at) => at !== index) };
  });
}

/** The survey with one more place (px) that a line is said to pass through. */
export function addPin(survey: Survey, photoId: string, lineId: string, { u, v }: ImagePoint): Survey {
  return changeLine(survey, photoId, lineId, (line) => ({ ...line, pins: [...(line.pins ?? []), { u, v }] }));
}

/** The survey without one of a line's pins. */
export function removePin(survey: Survey, photoId: string, lineId: string, index: number): Survey {
  return changeLine(survey, photoId, lineId, (line) => {
    itemAt(line.pins ?? [], index, 'pin');
    const pins = (line.pins ?? []).filter((_, at) => at !== index);
    return { ...line, pins: pins.length > 0 ? pins : undefined };
  });
}

/** The survey with a photo's picture with the laser off named, or with none (undefined). */
export function setLaserOff(survey: Survey, photoId: string, file: string | undefined): Survey {
  return changePhoto(survey, photoId, (photo) =>
    photo.laserOff === file ? photo : { ...photo, laserOff: file },
  );
}
