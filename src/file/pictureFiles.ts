import type { Photo, Survey } from '../core/survey.ts';

/** Names of all picture files of a survey, each once: the photographs and their pictures with the laser off. */
export function listPictureFiles({ photos }: Pick<Survey, 'photos'>): string[] {
  const files = photos.flatMap(({ file, laserOff }: Photo) =>
    laserOff === undefined ? [file] : [file, laserOff],
  );
  return [...new Set(files)];
}
