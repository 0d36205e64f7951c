import type { StepBlock, Survey } from '../core/survey.ts';
import { changePhoto, itemAt, replaceAt } from './editPhoto.ts';

/** How well a packer's thickness is known (mm): a sliding gauge on plastic packers. Common practice, no source. */
export const BLOCK_SIGMA_MM = 0.2;

/** The survey with a packer on a stretch of a line (px along its run, either way round); no length changes nothing. */
export function addBlock(
  survey: Survey,
  photoId: string,
  lineId: string,
  fromPx: number,
  toPx: number,
  thicknessMm: number,
): Survey {
  if (fromPx === toPx) return survey;
  return changePhoto(survey, photoId, (photo) => {
    const block: StepBlock = {
      line: lineId,
      from: Math.min(fromPx, toPx),
      to: Math.max(fromPx, toPx),
      thickness: thicknessMm,
      sigma: BLOCK_SIGMA_MM,
    };
    return { ...photo, blocks: [...(photo.blocks ?? []), block] };
  });
}

/** The survey with what is known of one packer changed. */
export function setBlock(
  survey: Survey,
  photoId: string,
  index: number,
  part: Partial<Pick<StepBlock, 'thickness' | 'sigma'>>,
): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const blocks = photo.blocks ?? [];
    const block = itemAt(blocks, index, 'packer');
    return { ...photo, blocks: replaceAt(blocks, index, { ...block, ...part }) };
  });
}

/** The survey without one packer of a photo. */
export function removeBlock(survey: Survey, photoId: string, index: number): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const blocks = photo.blocks ?? [];
    itemAt(blocks, index, 'packer');
    return { ...photo, blocks: blocks.filter((_, at) => at !== index) };
  });
}
