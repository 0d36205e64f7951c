import type { Component } from 'svelte';
import type { SpotName } from '../../app/place.svelte.ts';
import LaserPicture from './pictures/LaserPicture.svelte';
import LiningPicture from './pictures/LiningPicture.svelte';
import PhotoPicture from './pictures/PhotoPicture.svelte';
import ReadingPicture from './pictures/ReadingPicture.svelte';
import StandPicture from './pictures/StandPicture.svelte';
import TapePicture from './pictures/TapePicture.svelte';

/** One step of the measuring, as a drawing with a sentence. */
export interface FirstStep {
  readonly picture: Component;
  readonly words: string;
  /** The places whose work it is. */
  readonly at: readonly SpotName[];
}

/** What to bring before anything else is done. */
export const bring =
  'Bring a line laser, a steel tape with clear millimetres, a rule, this phone, and something to fix the tape to the wall.';

/** The measuring in six drawings, in the order of the work. */
export const firstSteps: readonly FirstStep[] = [
  {
    picture: LaserPicture,
    words:
      'Set the laser up at one end, close to the wall, its upright light about as far from the wall at both ends.',
    at: ['readings'],
  },
  {
    picture: ReadingPicture,
    words:
      'At six places or so, hold a rule square to the wall and read it where the upright light crosses it.',
    at: ['readings'],
  },
  {
    picture: TapePicture,
    words:
      'Turn the laser to throw a line on the wall, measure where it runs, and fix the tape close beside it.',
    at: ['photos'],
  },
  {
    picture: StandPicture,
    words: 'Stand so that the phone is a third of its distance, or more, above, below or beside the line.',
    at: ['photos'],
  },
  {
    picture: PhotoPicture,
    words: 'Take the photo with the whole line and the tape in it; then name four marks of the tape.',
    at: ['photos'],
  },
  {
    picture: LiningPicture,
    words: 'From all of it comes the wall, and from the wall the boards, the bed and the gauge screws.',
    at: [],
  },
];

/** The steps that a place shows while nothing is measured: its own, and all of them at the start. */
export const stepsAt = (place: SpotName): readonly FirstStep[] =>
  place === 'surveys' || place === 'wall' ? firstSteps : firstSteps.filter(({ at }) => at.includes(place));
