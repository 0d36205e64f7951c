import type { FoundLine } from '../../core/line/foundLine.ts';

/** Confidence from which a line is called sure, and likely (own choice). */
const SURE = 0.8;
const LIKELY = 0.5;

/**
 * A line that was seen, in plain words.
 * @example describeProposal({ axis: 'level', colour: 'green', confidence: 0.93 }) // 'level, green, sure'
 */
export function describeProposal({
  axis,
  colour,
  confidence,
}: Pick<FoundLine, 'axis' | 'colour' | 'confidence'>): string {
  return `${axis}, ${colour}, ${confidence >= SURE ? 'sure' : confidence >= LIKELY ? 'likely' : 'doubtful'}`;
}
