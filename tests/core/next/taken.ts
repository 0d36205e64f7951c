import { measureBed } from '../../../src/core/lining/bed.ts';
import { keepLinedNodes } from '../../../src/core/lining/linedNodes.ts';
import { gatherSpots, weighSpots } from '../../../src/core/next/spots.ts';
import type { BedPlane, NextMeasure, Solution } from '../../../src/core/results.ts';
import { createGrid } from '../../../src/core/solve/grid.ts';
import type { Survey } from '../../../src/core/survey.ts';
import { seedRandom } from '../../truth/random.ts';
import { makeSurvey, type MadeSurvey, type SurveyOptions } from '../../truth/survey.ts';

/** A made survey with a measurement more, taken from the same wall as its own were, by the same phone. */
export function takeNext(
  { survey, truth, k1 }: MadeSurvey,
  seed: number,
  { kind, along, up }: Pick<NextMeasure, 'kind' | 'along' | 'up'>,
  options: SurveyOptions = {},
): Survey {
  if (kind === 'reading') {
    const { sigma } = survey.readings[0]!;
    const distance = -truth(along, up) + sigma * seedRandom(seed).normal();
    return { ...survey, readings: [...survey.readings, { id: 'next', along, up, distance, sigma }] };
  }
  const { width, height } = survey.wall;
  const sheets = kind === 'level' ? { levels: [up], plumbs: [] } : { levels: [], plumbs: [along] };
  const more = makeSurvey(seed, 'plaster', { ...options, ...sheets, truth, k1, width, height });
  return { ...survey, photos: [...survey.photos, { ...more.survey.photos[0]!, id: 'next' }] };
}

/** How a solved wall stands against a bed plane: doubtful area and root mean square of sigma. */
export function weighSolution({ wall, lining }: Survey, solution: Solution, plane: BedPlane) {
  const surface = keepLinedNodes(solution.surface, wall);
  const bed = measureBed(surface, plane);
  return weighSpots(gatherSpots(surface, bed, wall, lining.bed, 0, createGrid(wall, 500)));
}
