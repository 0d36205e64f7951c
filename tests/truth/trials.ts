import type { Solution } from '../../src/core/results.ts';
import { solveSurvey } from '../../src/core/solve/solve.ts';
import type { Survey } from '../../src/core/survey.ts';

/** `TRIALS=full npx vitest run ...`: as many trials as there are, each with the surface on its own grid. */
const areFull = process.env.TRIALS === 'full';

/** How many trials: the usual number, or all of them where all are asked for. */
export const countTrials = (usual: number, all: number): number => (areFull ? all : usual);

/** The coarsest step that changes nothing of what is found wrong, nor the wall's scale. */
const ROUGH_STEP_MM = 50;

/** Solves with the surface on a coarser grid, which costs half: where its own grid is not what is tested. */
export const solveRoughly = (survey: Survey): Solution =>
  solveSurvey(survey, undefined, areFull ? undefined : ROUGH_STEP_MM);
