import { parseSurvey } from '../file/survey.ts';
import type { Session } from './session.svelte.ts';
import { stopOf } from './stops.ts';
import type { Stop } from './trouble.ts';

// addresses only: the files lie beside the page and are fetched when asked for
const surveyUrls = import.meta.glob<string>('../../samples/*/survey.json', {
  query: '?url',
  import: 'default',
  eager: true,
});
const photoUrls = import.meta.glob<string>('../../samples/*/photos/*', {
  query: '?url',
  import: 'default',
  eager: true,
});

async function fetchBytes(url: string): Promise<ArrayBuffer> {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`${url}: HTTP ${answer.status}`);
  return answer.arrayBuffer();
}

/** Opens the sample survey with its photographs; the one on this device when it was opened before. */
export async function openSample(session: Session, progress: (share: number) => void): Promise<Stop | null> {
  const [path, url] = Object.entries(surveyUrls)[0] ?? [];
  if (path === undefined || url === undefined) return { code: 'sample_missing' };
  const folder = path.slice(0, path.lastIndexOf('/'));
  const id = `sample-${folder.slice(folder.lastIndexOf('/') + 1)}`;
  try {
    if (session.cards.some((card) => card.id === id)) {
      await session.markRemoved(id, false);
      if (await session.openSurvey(id)) return null;
    }
    const survey = parseSurvey(new TextDecoder().decode(await fetchBytes(url)));
    const photos = new Map<string, ArrayBuffer>();
    for (const [index, { file }] of survey.photos.entries()) {
      progress(index / survey.photos.length);
      const photoUrl = photoUrls[`${folder}/${file}`];
      if (photoUrl !== undefined) photos.set(file, await fetchBytes(photoUrl));
    }
    await session.addSurvey(survey, photos, id);
    return null;
  } catch (thrown) {
    return stopOf(thrown);
  }
}
