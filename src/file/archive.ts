import { strFromU8, strToU8, unzipSync, zipSync, type UnzipFileInfo, type Zippable } from 'fflate';
import { refuse } from '../core/refusal.ts';
import type { Survey } from '../core/survey.ts';
import { listPictureFiles } from './pictureFiles.ts';
import { parseSurvey, writeSurvey } from './survey.ts';

/** A survey with the bytes of its photographs, by the file names the survey gives them. */
export interface PackedSurvey {
  readonly survey: Survey;
  readonly photos: ReadonlyMap<string, Uint8Array>;
}

const surveyName = 'survey.json';
/** The oldest date a ZIP can hold, on every entry: the same survey gives the same bytes. */
const entryDate = new Date(1980, 0, 1);
/** More than this in one entry is no survey and no photograph, bytes; own choice. */
const mostEntryBytes = 500e6;

/**
 * A ZIP of survey.json and the photographs, those that are given. Pictures are stored as they are, text is deflated;
 * the same survey gives the same bytes.
 */
export function packSurvey({ survey, photos }: PackedSurvey): Uint8Array {
  const entries: Zippable = { [surveyName]: [strToU8(writeSurvey(survey)), { level: 9, mtime: entryDate }] };
  for (const file of listPictureFiles(survey)) {
    const bytes = photos.get(file);
    if (bytes) entries[file] = [bytes, { level: 0, mtime: entryDate }];
  }
  // fflate's asynchronous calls make workers from blobs, which the page's policy forbids
  return zipSync(entries);
}

/** An entry's name with forward slashes and composed letters, as surveys write it; some packers differ in both. */
const plainName = (name: string) => name.replaceAll('\\', '/').normalize('NFC');

/** Unpacks the entries whose plain name is wanted, by that name. */
function unpackEntries(zip: Uint8Array, isWanted: (name: string) => boolean): Map<string, Uint8Array> {
  const filter = ({ name, originalSize }: UnzipFileInfo) =>
    isWanted(plainName(name)) && originalSize <= mostEntryBytes;
  const entries = Object.entries(unzipSync(zip, { filter }));
  return new Map(entries.map(([name, bytes]) => [plainName(name), bytes]));
}

const isSurvey = (name: string) => {
  const parts = name.split('/');
  return parts.at(-1) === surveyName && parts.length <= 2 && parts[0] !== '__MACOSX';
};

function unpackOrRefuse(zip: Uint8Array, file: string, isWanted: (name: string) => boolean) {
  try {
    return unpackEntries(zip, isWanted);
  } catch {
    return refuse({ code: 'archive_unreadable', file });
  }
}

/**
 * Reads a ZIP with survey.json at its root or in one folder, and the photographs that the survey names, as far as they
 * are in it. Nothing else in the ZIP is unpacked.
 * @param file the ZIP's name, for the refusals
 * @throws archive_unreadable when it is no ZIP or holds no survey.json, and every refusal of `parseSurvey`
 */
export function unpackSurvey(zip: Uint8Array, file: string): PackedSurvey {
  const found = [...unpackOrRefuse(zip, file, isSurvey)].sort(([a], [b]) => a.length - b.length);
  const [name, bytes] = found[0] ?? refuse({ code: 'archive_unreadable', file });
  const survey = parseSurvey(strFromU8(bytes), surveyName);
  const folder = name.slice(0, -surveyName.length);
  const wanted = new Map(listPictureFiles(survey).map((picture) => [folder + plainName(picture), picture]));
  const entries = unpackOrRefuse(zip, file, (entry) => wanted.has(entry));
  return { survey, photos: new Map([...entries].map(([entry, photo]) => [wanted.get(entry)!, photo])) };
}
