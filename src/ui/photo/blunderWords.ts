import type { Blunder } from '../../core/camera/blunder.ts';
import type { Doubt } from './doubt.ts';

const MEASURES = {
  off: "the phone's distance off the laser's plane",
  up: "the phone's height above the floor",
  along: "the phone's distance from the left end",
} as const;

/**
 * What to look at when a photo's marks, stand and focal length do not agree: every single mistake that would explain it.
 * Marks along one tape often cannot tell which of them is wrong.
 * @example blunderWords([{ kind: 'mark', mark: 2 }]) // 'Something does not agree here. Check mark 3.'
 */
export function blunderWords(blunders: readonly Blunder[]): string {
  const marks = listMarks(blunders.filter((blunder) => blunder.kind === 'mark').map(({ mark }) => mark));
  const swaps = blunders
    .filter((blunder) => blunder.kind === 'swapped')
    .map(({ first, second }) => `whether marks ${first + 1} and ${second + 1} are swapped`);
  const measures = blunders
    .filter((blunder) => blunder.kind === 'stand')
    .map(({ measure }) => MEASURES[measure]);
  const causes = [...marks, ...swaps, ...measures];
  if (causes.length === 0)
    return "The marks, the phone's position and the picture's focal length do not agree. Check what was typed for each.";
  const several = blunders.length > 1 && marks.length > 0;
  const advice = several ? ' One more mark, away from this tape, would show which.' : '';
  return `Something does not agree here. Check ${causes.join(', or ')}.${advice}`;
}

/**
 * What to look at where a photo's evidence does not agree, that of other photos by the same unmoved phone with it.
 */
export function doubtWords({ blunders, fellows, moved }: Doubt, photoId: string): string {
  if (moved === photoId)
    return 'The phone seems to have been moved before this picture was taken: its marks do not agree with those of the photos it is put with. Say in "Phone" that it was moved, or check the marks.';
  if (moved !== null)
    return `The phone seems to have been moved for photo ${moved}, which is said to be taken from the same place. Check its marks, or say there that it was moved.`;
  if (fellows.length > 0 && blunders.length === 0)
    return `Something does not agree here. Check the marks of photo ${fellows.join(', ')}, taken from the same place.`;
  const others =
    fellows.length > 0 ? ` Or it is a mark of photo ${fellows.join(', ')}, taken from the same place.` : '';
  return blunderWords(blunders) + others;
}

/** Numbers of marks as people say them: "mark 2", "marks 1, 2 and 4". */
function listMarks(marks: readonly number[]): string[] {
  const numbers = [...marks].sort((a, b) => a - b).map((mark) => mark + 1);
  if (numbers.length < 2) return numbers.map((number) => `mark ${number}`);
  return [`marks ${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`];
}
