import type { Survey } from '../core/survey.ts';
import { readPictureFacts, stripLocation } from '../file/exif.ts';
import { addPhoto, freePhotoFile, makePhoto } from './newSurvey.ts';
import { refusalOfFile } from './pictureKind.ts';
import { dropPreview, readPictureSize } from './pictures.ts';
import type { Session } from './session.svelte.ts';
import { stopOf } from './stops.ts';
import type { Stop } from './trouble.ts';

const baseName = (path: string) => path.slice(path.lastIndexOf('/') + 1);

/** The photo of the survey that names this file and whose picture is not here: the file is put in its place. */
async function missingPhoto(session: Session, survey: Survey, name: string) {
  const photo = survey.photos.find((each) => baseName(each.file).toLowerCase() === name.toLowerCase());
  return photo && (await session.readPhoto(photo.file)) === null ? photo : null;
}

async function importPhoto(session: Session, file: File, gesture: string): Promise<Stop | null> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const refusal = refusalOfFile(bytes, file.name);
  if (refusal) return refusal;
  const size = await readPictureSize(file);
  if (!size) return { code: 'not_a_picture', file: file.name };
  const { focal35Mm } = readPictureFacts(bytes);
  // the position of the customer's home goes no further than this line
  const kept = stripLocation(bytes, file.name).slice().buffer;
  const survey = session.survey;
  if (!survey) return null;
  const missing = await missingPhoto(session, survey, file.name);
  if (missing) {
    dropPreview(session, missing.file);
    await session.keepPhoto(missing.file, kept);
    return null;
  }
  const name = freePhotoFile(file.name, survey.photos);
  const colour = survey.photos.at(-1)?.lines[0]?.colour ?? 'green';
  await session.keepPhoto(name, kept);
  const photo = makePhoto(survey, name, { ...size, focal35Mm }, { axis: 'level', colour });
  session.change(addPhoto(survey, photo), gesture);
  return null;
}

/** Adds photographs to the open survey, one at a time and as one step of undo; gives back what was refused. */
export async function importPhotos(
  session: Session,
  files: readonly File[],
  progress: (done: number, name: string) => void,
): Promise<Stop[]> {
  const gesture = `add ${Date.now()}`;
  const refused: Stop[] = [];
  for (const [index, file] of files.entries()) {
    progress(index, file.name);
    const stop = await importPhoto(session, file, gesture).catch(stopOf);
    if (stop) refused.push(stop);
  }
  return refused;
}
