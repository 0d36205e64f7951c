import type { Survey } from '../core/survey.ts';
import { unpackSurvey } from '../file/archive.ts';
import { stripLocation } from '../file/exif.ts';
import { listPictureFiles } from '../file/pictureFiles.ts';
import { parseSurvey } from '../file/survey.ts';
import { isPicture, isZip, refusalOfFile } from './pictureKind.ts';
import type { Session } from './session.svelte.ts';
import { stopOf } from './stops.ts';
import type { Stop } from './trouble.ts';

interface Brought {
  readonly survey: Survey;
  readonly photos: ReadonlyMap<string, Uint8Array>;
}

const bytesOf = async (file: File) => new Uint8Array(await file.arrayBuffer());
const baseName = (path: string) => path.slice(path.lastIndexOf('/') + 1);

/** What the chosen files bring: a ZIP, or a survey file with its photographs beside it. */
async function readFiles(files: readonly File[]): Promise<Brought | Stop> {
  const pictures: File[] = [];
  let main: { readonly file: File; readonly bytes: Uint8Array } | undefined;
  for (const file of files) {
    if (isPicture(new Uint8Array(await file.slice(0, 16).arrayBuffer()))) pictures.push(file);
    else main ??= { file, bytes: await bytesOf(file) };
  }
  if (!main) return { code: 'survey_not_ours', file: files[0]?.name ?? '' };
  if (isZip(main.bytes)) return unpackSurvey(main.bytes, main.file.name);
  const survey = parseSurvey(new TextDecoder().decode(main.bytes), main.file.name);
  const photos = new Map<string, Uint8Array>();
  for (const file of listPictureFiles(survey)) {
    const picture = pictures.find((each) => each.name === baseName(file));
    if (picture) photos.set(file, await bytesOf(picture));
  }
  return { survey, photos };
}

/**
 * Opens a survey from files the user chose. The open survey stays as it is when that fails; a photograph in it that is
 * no picture is left out and told.
 */
export async function openSurveyFiles(
  session: Session,
  files: readonly File[],
  progress: (share: number) => void,
): Promise<Stop | null> {
  try {
    const brought = await readFiles(files);
    if ('code' in brought) return brought;
    progress(0.5);
    const photos = new Map<string, ArrayBuffer>();
    let unfit: Stop | null = null;
    for (const [file, bytes] of brought.photos) {
      const refusal = refusalOfFile(bytes, file);
      if (refusal) unfit ??= refusal;
      else photos.set(file, stripLocation(bytes, file).slice().buffer);
    }
    await session.addSurvey(brought.survey, photos);
    session.stop = unfit ?? session.stop;
    return null;
  } catch (thrown) {
    return stopOf(thrown);
  }
}
