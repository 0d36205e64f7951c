import type { Mark, Survey, Tape } from '../core/survey.ts';
import { changePhoto, itemAt, replaceAt } from './editPhoto.ts';

/** Marks whose places across a tape differ by no more than this lie on one tape (mm). */
const SAME_TAPE_MM = 0.5;

const acrossTape = (axis: Tape['axis'], mark: Mark) => (axis === 'along' ? mark.up : mark.along);

/** Indices of the marks that lie on a tape through the mark `on`, in their order along it. */
function marksOnTape(marks: readonly Mark[], on: number, axis: Tape['axis']): number[] {
  const across = acrossTape(axis, marks[on]!);
  return marks
    .map((_, index) => index)
    .filter((index) => Math.abs(acrossTape(axis, marks[index]!) - across) <= SAME_TAPE_MM)
    .sort((a, b) => marks[a]![axis] - marks[b]![axis]);
}

/** A tape as if it had not been looked at: what was read no longer holds. */
function forgetReading(tape: Tape): Tape {
  const { read, ...rest } = tape;
  return read ? rest : tape;
}

/** Tapes after a mark was moved or renamed: what was read off those that it lies on no longer holds. */
export function tapesUnread(tapes: readonly Tape[], marks: readonly Mark[], moved: number): readonly Tape[] {
  const hangsOn = (tape: Tape) =>
    tape.from === moved || tape.to === moved || marksOnTape(marks, tape.from, tape.axis).includes(moved);
  return tapes.map((tape) => (tape.read && hangsOn(tape) ? forgetReading(tape) : tape));
}

/** Tapes after mark `added` was read off one: the tape it lies on reaches from the first to the last mark on it. */
export function joinTape(
  tapes: readonly Tape[],
  marks: readonly Mark[],
  added: number,
  { axis, pitch }: Pick<Tape, 'axis' | 'pitch'>,
): readonly Tape[] {
  const on = marksOnTape(marks, added, axis);
  if (on.length < 2) return tapes;
  const [from, to] = [on[0]!, on[on.length - 1]!];
  const known = tapes.findIndex(
    (tape) => tape.axis === axis && on.includes(tape.from) && on.includes(tape.to),
  );
  return known < 0
    ? [...tapes, { from, to, axis, pitch }]
    : replaceAt(tapes, known, { ...forgetReading(tapes[known]!), from, to, pitch });
}

/**
 * Tapes after mark `gone` of `marks` is taken away: indices above it move down by one; a tape that ended there ends at the
 * mark on it that is furthest from its other end, or is dropped when no such mark is left.
 */
export function tapesWithout(tapes: readonly Tape[], marks: readonly Mark[], gone: number): readonly Tape[] {
  const down = (index: number) => (index > gone ? index - 1 : index);
  return tapes.flatMap((tape) => {
    if (tape.from !== gone && tape.to !== gone)
      return [{ ...tape, from: down(tape.from), to: down(tape.to) }];
    const kept = tape.from === gone ? tape.to : tape.from;
    const far = (index: number) => Math.abs(marks[index]![tape.axis] - marks[kept]![tape.axis]);
    const left = marksOnTape(marks, kept, tape.axis).filter((index) => index !== gone && index !== kept);
    if (left.length === 0) return [];
    const end = down(left.reduce((best, index) => (far(index) > far(best) ? index : best)));
    return [
      tape.from === gone
        ? { ...forgetReading(tape), from: end, to: down(kept) }
        : { ...forgetReading(tape), from: down(kept), to: end },
    ];
  });
}

/** The survey with a tape laid between two marks of a photo. @throws Error where a mark is not there or is the same */
export function addTape(survey: Survey, photoId: string, tape: Tape): Survey {
  return changePhoto(survey, photoId, (photo) => {
    checkEnds(tape, photo.marks);
    return { ...photo, tapes: [...photo.tapes, tape] };
  });
}

/** The survey with one tape of a photo changed in part, to be read anew. @throws Error where a mark is not there or is the same */
export function setTape(survey: Survey, photoId: string, index: number, part: Partial<Tape>): Survey {
  return changePhoto(survey, photoId, (photo) => {
    const tape = { ...forgetReading(itemAt(photo.tapes, index, 'tape')), ...part };
    checkEnds(tape, photo.marks);
    return { ...photo, tapes: replaceAt(photo.tapes, index, tape) };
  });
}

/** The survey without one tape of a photo; its marks stay. */
export function removeTape(survey: Survey, photoId: string, index: number): Survey {
  return changePhoto(survey, photoId, (photo) => {
    itemAt(photo.tapes, index, 'tape');
    return { ...photo, tapes: photo.tapes.filter((_, at) => at !== index) };
  });
}

function checkEnds(tape: Tape, marks: readonly Mark[]): void {
  itemAt(marks, tape.from, 'mark of the tape');
  itemAt(marks, tape.to, 'mark of the tape');
  if (tape.from === tape.to) throw new Error(`tape: expected two marks, got ${tape.from} twice`);
}
