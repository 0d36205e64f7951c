import type { Survey } from '../core/survey.ts';

/** What is wrong in a survey file: where, and what, in plain words. */
export interface FieldProblem {
  readonly path: string;
  readonly problem: string;
}

function findTwin(items: readonly { readonly id: string }[], path: string): FieldProblem | null {
  const seen = new Set<string>();
  for (const [index, { id }] of items.entries()) {
    if (seen.has(id)) return { path: `${path}[${index}].id`, problem: `"${id}" is already taken` };
    seen.add(id);
  }
  return null;
}

function findWrongTape(photo: Survey['photos'][number], path: string): FieldProblem | null {
  const last = photo.marks.length - 1;
  for (const [index, tape] of photo.tapes.entries()) {
    for (const end of ['from', 'to'] as const) {
      const mark = tape[end];
      if (mark < 0 || mark > last)
        return { path: `${path}.tapes[${index}].${end}`, problem: `there is no mark ${mark}` };
    }
    if (tape.from === tape.to)
      return { path: `${path}.tapes[${index}].to`, problem: 'must be another mark than from' };
  }
  return null;
}

function findWrongBlock(photo: Survey['photos'][number], path: string): FieldProblem | null {
  const index = (photo.blocks ?? []).findIndex(({ line }) => !photo.lines.some(({ id }) => id === line));
  if (index < 0) return null;
  return {
    path: `${path}.blocks[${index}].line`,
    problem: `there is no line "${photo.blocks![index]!.line}"`,
  };
}

/**
 * The first law between fields that a survey breaks, null when it keeps all: ids are unique within their list, a photo's
 * phone and a tape's marks exist, the bed's limits rise.
 */
export function findBrokenLaw(survey: Survey): FieldProblem | null {
  const { wall, phones, readings, photos, lining } = survey;
  const twin =
    findTwin(wall.openings, 'wall.openings') ??
    findTwin(wall.boxes, 'wall.boxes') ??
    findTwin(phones, 'phones') ??
    findTwin(readings, 'readings') ??
    findTwin(photos, 'photos');
  if (twin) return twin;
  for (const [index, photo] of photos.entries()) {
    const path = `photos[${index}]`;
    if (!phones.some((phone) => phone.id === photo.phone))
      return { path: `${path}.phone`, problem: `there is no phone "${photo.phone}"` };
    const broken =
      findTwin(photo.lines, `${path}.lines`) ?? findWrongTape(photo, path) ?? findWrongBlock(photo, path);
    if (broken) return broken;
  }
  const { min, max, packedMax } = lining.bed;
  if (max < min) return { path: 'lining.bed.max', problem: 'must not be below lining.bed.min' };
  if (packedMax < max) return { path: 'lining.bed.packedMax', problem: 'must not be below lining.bed.max' };
  return null;
}
