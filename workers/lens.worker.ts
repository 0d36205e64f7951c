import type { Picture } from '../src/vision/picture.ts';
import { traceEdge } from '../src/vision/edgeTrace.ts';
import type { EdgeAsk, EdgeAnswer } from '../src/vision/edgeAsk.ts';
import { answerCalls } from './answer.ts';
import { decodePicture } from './decode.ts';

let last: { readonly file: string; readonly picture: Picture } | null = null;

// the edges of one picture are asked for one after the other: it is decoded once, and only one is kept
answerCalls(async ({ blob, file, from, to, tapPx, edge }: EdgeAsk<Blob>): Promise<EdgeAnswer> => {
  if (last?.file !== file) {
    last = null;
    last = { file, picture: await decodePicture(blob, file) };
  }
  const { widthPx, heightPx } = last.picture;
  return { widthPx, heightPx, traced: traceEdge(last.picture, from, to, tapPx, edge) };
});
