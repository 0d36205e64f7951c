import type { Survey } from '../src/core/survey.ts';
import { lookAtPhoto } from '../src/vision/look.ts';
import { opencvError } from '../src/vision/opencv/start.ts';
import { answerCalls } from './answer.ts';
import { decodePicture } from './decode.ts';
import { loadOpenCv } from './opencv/loadBrowser.ts';

interface Ask {
  survey: Survey;
  photoId: string;
  focal35Mm: number | null;
  blob: Blob;
  again: boolean;
}

const opencv = loadOpenCv();

// one photograph in memory at a time: the page asks for the next when it has this answer
answerCalls(async ({ survey, photoId, focal35Mm, blob, again }: Ask, progress) => {
  const { cv } = await opencv;
  progress(0.1);
  const file = survey.photos.find((photo) => photo.id === photoId)?.file ?? photoId;
  const picture = await decodePicture(blob, file);
  progress(0.4);
  try {
    return lookAtPhoto(cv, picture, survey, photoId, { focal35Mm, again });
  } catch (thrown) {
    throw typeof thrown === 'number' ? opencvError(cv, thrown) : thrown;
  }
}, opencv);
