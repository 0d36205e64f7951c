import type { Photo } from '../core/survey.ts';
import { drawPlanOnPhoto, type PhotoLayers } from '../draw/onPhoto/planOnPhoto.ts';
import type { Sighting } from '../draw/onPhoto/photoSight.ts';
import { toSvg } from '../draw/tree.ts';
import type { MadeFile } from './deliver.ts';
import { fileName } from './exports.ts';
import type { Session } from './session.svelte.ts';
import type { Solved } from './solved.ts';
import { stopOf } from './stops.ts';
import type { Answer } from './workers.ts';

/** A picture of more pixels than this is saved smaller: beyond it canvases of phones stay empty. */
const MOST_PX = 12.5e6;
/** Fine lines stay clean at this JPEG quality. */
const QUALITY = 0.9;

/**
 * Size (px) in which a picture is saved: its own, or as many pixels as a canvas surely holds.
 * @example savedSize({ widthPx: 4000, heightPx: 3000 }) // { widthPx: 4000, heightPx: 3000 }
 * @example savedSize({ widthPx: 8000, heightPx: 6250 }) // { widthPx: 4000, heightPx: 3125 }
 */
export function savedSize({ widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number }) {
  const share = Math.min(1, Math.sqrt(MOST_PX / (widthPx * heightPx)));
  return { widthPx: Math.round(share * widthPx), heightPx: Math.round(share * heightPx) };
}

/** What a picture of the plan on a photo is made of. `note`: version and date for its caption. */
export interface PhotoPictureAsk {
  readonly solved: Solved;
  readonly photo: Photo;
  readonly sighting: Sighting;
  readonly layers: PhotoLayers;
  readonly note: string;
}

/**
 * The plan drawn onto a photograph as a JPEG of the photograph's size, at most 12.5 megapixels. It is made from the pixels alone: nothing
 * that the camera noted, place and time included, is in it.
 */
export async function makePhotoPicture(
  session: Session,
  { solved, photo, sighting, layers, note }: PhotoPictureAsk,
  progress: (share: number) => void = () => {},
): Promise<Answer<MadeFile>> {
  try {
    const { of: survey, solution, plan } = solved;
    if (!plan || !sighting.ok) throw new Error('save a picture: expected a plan and a photo that is placed');
    const bytes = await session.readPhoto(photo.file);
    if (!bytes) return { ok: false, stop: { code: 'photo_missing', photo: photo.id, file: photo.file } };
    progress(0.1);
    const drawing = drawPlanOnPhoto({ survey, solution, plan }, photo.id, sighting, { layers, note });
    progress(0.3);
    const size = savedSize(drawing.size);
    const isWhole = size.widthPx === drawing.size.widthPx;
    const reduce = isWhole ? {} : { resizeWidth: size.widthPx, resizeQuality: 'high' as const };
    const blob = await paintOver(new Blob([bytes]), reduce, toSvg(drawing.node), size, progress);
    return { ok: true, value: { name: fileName(`plan on ${photo.id} ${survey.title}`, 'jpg'), blob } };
  } catch (thrown) {
    return { ok: false, stop: stopOf(thrown) };
  }
}

/** A photograph with a drawing over it, as a JPEG of a size. */
async function paintOver(
  photograph: Blob,
  reduce: ImageBitmapOptions,
  drawing: string,
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
  progress: (share: number) => void,
): Promise<Blob> {
  const canvas = document.createElement('canvas');
  canvas.width = widthPx;
  canvas.height = heightPx;
  const context = canvas.getContext('2d', { colorSpace: 'srgb' });
  if (!context) throw new Error('no canvas');
  const url = URL.createObjectURL(new Blob([drawing], { type: 'image/svg+xml' }));
  try {
    const bitmap = await createImageBitmap(photograph, { imageOrientation: 'from-image', ...reduce });
    context.drawImage(bitmap, 0, 0, widthPx, heightPx);
    bitmap.close();
    progress(0.5);
    const over = new Image();
    over.src = url;
    await over.decode();
    context.drawImage(over, 0, 0, widthPx, heightPx);
    progress(0.7);
    // a canvas that is too large stays empty without a word
    if (context.getImageData(widthPx - 1, heightPx - 1, 1, 1).data[3] !== 255)
      throw new Error('empty canvas');
    return await new Promise((resolve, reject) =>
      canvas.toBlob(
        (blob) => (blob ? resolve(blob) : reject(new Error('no picture'))),
        'image/jpeg',
        QUALITY,
      ),
    );
  } finally {
    URL.revokeObjectURL(url);
    // gives the memory back at once
    canvas.width = canvas.height = 0;
  }
}
