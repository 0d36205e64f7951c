import { existsSync, readFileSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { refuse } from '../src/core/refusal.ts';
import type { Survey } from '../src/core/survey.ts';
import { unpackSurvey } from '../src/file/archive.ts';
import { parseSurvey } from '../src/file/survey.ts';

/** A survey as found on disk, and a way to read the bytes of its photographs one at a time. */
export interface SurveyOnDisk {
  readonly survey: Survey;
  /** @throws photo_missing when the survey names a picture that is not there */
  readonly readPhoto: (photoId: string, file: string) => Uint8Array;
  /** The picture with the laser off, null where there is none. */
  readonly readLaserOff: (file: string | undefined) => Uint8Array | null;
}

/**
 * Opens SURVEY of the headless command: a survey.json, the folder it stands in, or a ZIP.
 * @throws file_not_found, archive_unreadable and every refusal of `parseSurvey`
 */
export function openSurvey(path: string): SurveyOnDisk {
  if (!existsSync(path)) refuse({ code: 'file_not_found', file: path });
  const file = statSync(path).isDirectory() ? join(path, 'survey.json') : path;
  if (!existsSync(file)) refuse({ code: 'file_not_found', file });
  const bytes = new Uint8Array(readFileSync(file));
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  if (isZip) {
    const { survey, photos } = unpackSurvey(bytes, basename(file));
    return {
      survey,
      readPhoto: (photo, name) => photos.get(name) ?? refuse({ code: 'photo_missing', photo, file: name }),
      readLaserOff: (name) => (name === undefined ? null : (photos.get(name) ?? null)),
    };
  }
  const survey = parseSurvey(new TextDecoder().decode(bytes), basename(file));
  return {
    survey,
    readPhoto: (photo, name) => {
      const place = join(dirname(file), name);
      if (!existsSync(place)) refuse({ code: 'photo_missing', photo, file: name });
      return new Uint8Array(readFileSync(place));
    },
    readLaserOff: (name) => {
      const place = name === undefined ? null : join(dirname(file), name);
      return place && existsSync(place) ? new Uint8Array(readFileSync(place)) : null;
    },
  };
}
