import type { Solution } from '../../src/core/results.ts';
import { solveSurvey } from '../../src/core/solve/solve.ts';
import type { Survey } from '../../src/core/survey.ts';

/** The coarsest step that changes nothing of what is found wrong, nor the wall's scale. */
const ROUGH_STEP_MM = 50;

/** `GRID=own npx vitest run ...`: every solve on its own grid. */
const STEP_MM = process.env.GRID === 'own' ? undefined : ROUGH_STEP_MM;

/** Solves with the surface on a coarser grid, which costs half: where its own grid is not what is tested. */
export const solveRoughly = (survey: Survey): Solution => solveSurvey(survey, undefined, STEP_MM);
