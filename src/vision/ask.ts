import type { FoundLine } from '../core/line/foundLine.ts';
import type { Mask, Survey } from '../core/survey.ts';
import { findLines } from './findLines.ts';
import { fitLaserOff } from './laserOffFit.ts';
import { lookAtPhoto, type LookedPhoto } from './look.ts';
import type { OpenCv } from './opencv/types.ts';
import type { Picture } from './picture.ts';

/** What is asked about one photograph: one member per kind; its answer is in `AskAnswers`, its doing in `answerAsk`. */
export type VisionAsk = LookAsk | ProposeAsk;

/** Look for the lines that the survey says the photo shows. */
export interface LookAsk {
  readonly kind: 'look';
  readonly survey: Survey;
  readonly photoId: string;
  readonly focal35Mm: number | null;
  readonly again: boolean;
  /** Only this line of the photo. */
  readonly only?: string | undefined;
}

/** Which laser lines are to be seen in the picture, whatever the survey says. */
export interface ProposeAsk {
  readonly kind: 'propose';
  readonly masks: readonly Mask[];
}

/** What comes back for every kind of ask. */
export interface AskAnswers {
  readonly look: LookedPhoto;
  readonly propose: readonly FoundLine[];
}

export type AnswerTo<A extends VisionAsk> = AskAnswers[A['kind']];

/** An ask with the photograph it is about, as it crosses the border; `B` is the page's Blob. */
export interface SentAsk<B> {
  readonly ask: VisionAsk;
  readonly blob: B;
  /** What refusals call the photograph. */
  readonly file: string;
  /** The same view with the laser off. */
  readonly laserOff?: B | null;
  /** Width (px) to decode it at where there is no memory for the whole picture. */
  readonly reducedTo?: number;
}

/**
 * Does what is asked about a decoded picture; `laserOff` = the same view with the laser off, if there is one.
 * @throws what the asked function does
 */
export function answerAsk<A extends VisionAsk>(
  cv: OpenCv,
  picture: Picture,
  ask: A,
  laserOff: Picture | null = null,
): AnswerTo<A> {
  return answers[ask.kind]({ cv, picture, laserOff }, ask as never) as AnswerTo<A>;
}

interface Seen {
  readonly cv: OpenCv;
  readonly picture: Picture;
  readonly laserOff: Picture | null;
}

type AskOf<K extends VisionAsk['kind']> = Extract<VisionAsk, { kind: K }>;

const answers: {
  readonly [K in VisionAsk['kind']]: (seen: Seen, ask: AskOf<K>) => AskAnswers[K];
} = {
  look: ({ cv, picture, laserOff }, ask) =>
    lookAtPhoto(cv, picture, ask.survey, ask.photoId, { ...ask, laserOff }),
  propose: ({ cv, picture, laserOff }, { masks }) => {
    const off = laserOff ? fitLaserOff(cv, picture, laserOff) : null;
    return findLines(off ? { ...picture, laserOff: off } : picture, { masks });
  },
};
