import type { Survey } from '../core/survey.ts';
import { readPictureFacts, stripLocation, uprightSize, usableFocal35 } from '../file/exif.ts';
import { setLaserOff } from './editLines.ts';
import { addPhoto, freePhotoFile, makePhoto, type PictureFacts } from './newSurvey.ts';
import { refusalOfFile } from './pictureKind.ts';
import { convertPicture, dropPreview, readPictureSize } from './pictures.ts';
import type { Session } from './session.svelte.ts';
import { stopOf } from './stops.ts';
import type { Stop } from './trouble.ts';

const baseName = (path: string) => path.slice(path.lastIndexOf('/') + 1);

/** The photo of the survey that names this file and whose picture is not here: the file is put in its place. */
async function missingPhoto(session: Session, survey: Survey, name: string) {
  const photo = survey.photos.find((each) => baseName(each.file).toLowerCase() === name.toLowerCase());
  return photo && (await session.readPhoto(photo.file)) === null ? photo : null;
}

interface TakenFile {
  readonly kept: ArrayBuffer;
  readonly facts: PictureFacts;
  readonly name: string;
}

/** A chosen file as the survey keeps it: readable, upright size known, without the place where it was taken. */
async function takeFile(file: File): Promise<TakenFile | Stop> {
  const original = new Uint8Array(await file.arrayBuffer());
  const facts = readPictureFacts(original);
  const focal35Mm = usableFocal35(facts);
  const refusal = refusalOfFile(original, file.name);
  // what the browser alone can read is kept as a JPEG of it
  const converted =
    refusal?.code === 'picture_kind_unknown' ? await convertPicture(new Blob([original])) : null;
  if (refusal && !converted) return refusal;
  const bytes = converted ? new Uint8Array(converted) : original;
  const told = uprightSize(converted ? readPictureFacts(bytes) : facts);
  const size = await readPictureSize(new Blob([bytes]), told);
  if (!size) return { code: 'not_a_picture', file: file.name };
  // the position of the customer's home goes no further than this line
  const kept = stripLocation(bytes, file.name).slice().buffer;
  return {
    kept,
    facts: { ...size, focal35Mm },
    name: converted ? file.name.replace(/\.\w*$/, '.jpg') : file.name,
  };
}

async function importPhoto(session: Session, file: File, gesture: string): Promise<Stop | null> {
  const taken = await takeFile(file);
  if ('code' in taken) return taken;
  const { kept, facts } = taken;
  const survey = session.survey;
  if (!survey) return null;
  const missing = await missingPhoto(session, survey, file.name);
  if (missing) {
    dropPreview(session, missing.file);
    await session.keepPhoto(missing.file, kept);
    return null;
  }
  const name = freePhotoFile(taken.name, survey.photos);
  const colour = survey.photos.at(-1)?.lines[0]?.colour ?? 'green';
  await session.keepPhoto(name, kept);
  const photo = makePhoto(survey, name, facts, { axis: 'level', colour });
  session.change(addPhoto(survey, photo), gesture);
  return null;
}

/** Adds the picture with the laser off to a photo of the open survey; gives back why not. */
export async function importLaserOff(session: Session, photoId: string, file: File): Promise<Stop | null> {
  try {
    const taken = await takeFile(file);
    if ('code' in taken) return taken;
    const { survey } = session;
    if (!survey) return null;
    const name = freePhotoFile(taken.name, survey.photos);
    await session.keepPhoto(name, taken.kept);
    session.change(setLaserOff(session.survey ?? survey, photoId, name));
    return null;
  } catch (thrown) {
    return stopOf(thrown);
  }
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
