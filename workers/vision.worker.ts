import { answerAsk, type SentAsk } from '../src/vision/ask.ts';
import { opencvError } from '../src/vision/opencv/start.ts';
import { answerCalls } from './answer.ts';
import { decodePicture } from './decode.ts';
import { loadOpenCv } from './opencv/loadBrowser.ts';

const opencv = loadOpenCv();

// one photograph (and its picture with the laser off) in memory at a time: the page asks for the next when it has this answer
answerCalls(async ({ ask, blob, file, reducedTo, laserOff }: SentAsk<Blob>, progress) => {
  const { cv } = await opencv;
  progress(0.1);
  const picture = await decodePicture(blob, file, reducedTo);
  // one that cannot be decoded is one that cannot be used, and told so
  const off = laserOff ? await decodePicture(laserOff, file, reducedTo).catch(() => null) : null;
  progress(0.4);
  try {
    return answerAsk(cv, picture, ask, off);
  } catch (thrown) {
    throw typeof thrown === 'number' ? opencvError(cv, thrown) : thrown;
  }
}, opencv);
