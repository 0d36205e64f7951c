import type { Survey } from '../core/survey.ts';
import { readPictureFacts, stripLocation, uprightSize, usableFocal35 } from '../file/exif.ts';
import { takePhone, type CameraFacts } from './cameraOf.ts';
import { isSameFile } from './duplicates.ts';
import { setLaserOff } from './editLines.ts';
import { fillWanted, type WantedMeasure } from './editWanted.ts';
import { addPhoto, freePhotoFile, makePhoto } from './newSurvey.ts';
import { refusalOfFile } from './pictureKind.ts';
import { noteBytes, viewPicture, type PictureLook } from './pictureLook.ts';
import { convertPicture, keepLook, notePicture } from './pictures.ts';
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
  readonly look: PictureLook;
  readonly name: string;
}

/** A chosen file as the survey keeps it: readable, upright size known, without the place where it was taken. */
async function takeFile(file: File): Promise<TakenFile | Stop> {
  // a folder that was dropped cannot be read
  const read = await file.arrayBuffer().catch(() => null);
  if (!read) return { code: 'not_a_picture', file: file.name };
  const original = new Uint8Array(read);
  const refusal = refusalOfFile(original, file.name);
  // what the browser alone can read is kept as a JPEG of it
  const converted =
    refusal?.code === 'picture_kind_unknown' ? await convertPicture(new Blob([original])) : null;
  if (refusal && !converted) return refusal;
  const bytes = converted ? new Uint8Array(converted) : original;
  const view = await viewPicture(new Blob([bytes]), uprightSize(readPictureFacts(bytes)));
  if (!view) return { code: 'not_a_picture', file: file.name };
  // the position of the customer's home goes no further than this line
  const kept = stripLocation(bytes, file.name).slice();
  // of a converted picture the original alone tells the camera
  const look = { ...view, ...noteBytes(kept), facts: readPictureFacts(original) };
  return { kept: kept.buffer, look, name: converted ? file.name.replace(/\.\w*$/, '.jpg') : file.name };
}

/** What became of a file: added as a photo, put in the place of a missing picture, not added because it is there already, refused. */
export type Imported =
  | { readonly kind: 'added' | 'put_back' | 'twin'; readonly photo: string }
  | { readonly kind: 'refused'; readonly stop: Stop }
  | { readonly kind: 'dropped' };

export interface ImportOptions {
  /** Changes that name the same gesture are one step of undo. */
  readonly gesture: string;
  /** Added even if the very same file is there. */
  readonly anyway: boolean;
  /** The line that the user set out to photograph; the photo is of that one. */
  readonly wanted: WantedMeasure | null;
  /** Whether the job still goes on. */
  readonly goesOn: () => boolean;
}

/** The photo whose picture is the very same file; null when there is none. */
async function findSameFile(session: Session, survey: Survey, look: PictureLook): Promise<string | null> {
  for (const { id, file } of survey.photos) {
    const noted = await notePicture(session, file);
    if (noted && isSameFile(noted, look)) return id;
  }
  return null;
}

/** What the pictures of a survey tell of the cameras that took them, by photo. */
async function readCameras(session: Session, survey: Survey): Promise<Map<string, CameraFacts>> {
  const cameras = new Map<string, CameraFacts>();
  for (const { id, file } of survey.photos) {
    const noted = await notePicture(session, file);
    if (noted) cameras.set(id, noted.facts);
  }
  return cameras;
}

/** Adds one file to the open survey, or tells why not. */
export async function importPhoto(session: Session, file: File, options: ImportOptions): Promise<Imported> {
  const taken = await takeFile(file);
  if ('code' in taken) return { kind: 'refused', stop: taken };
  const { kept, look } = taken;
  const before = session.survey;
  if (!before || !options.goesOn()) return { kind: 'dropped' };
  const missing = await missingPhoto(session, before, file.name);
  if (missing) {
    await session.keepPhoto(missing.file, kept);
    keepLook(session, missing.file, look);
    return { kind: 'put_back', photo: missing.id };
  }
  const twin = options.anyway ? null : await findSameFile(session, before, look);
  if (twin !== null) return { kind: 'twin', photo: twin };
  const cameras = await readCameras(session, before);
  const name = freePhotoFile(taken.name, before.photos);
  await session.keepPhoto(name, kept);
  keepLook(session, name, look);
  const { survey } = session;
  if (!survey || !options.goesOn()) return { kind: 'dropped' };
  const by = takePhone(survey, look.facts, cameras);
  const facts = { widthPx: look.widthPx, heightPx: look.heightPx, focal35Mm: usableFocal35(look.facts) };
  const photo = makePhoto(by.survey, name, facts, undefined, by.phone);
  session.change(fillWanted(addPhoto(by.survey, photo), photo.id, options.wanted), options.gesture);
  return { kind: 'added', photo: photo.id };
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
