import { SurveyAnswers, type SurveyAsk } from '../src/vision/surveyAsk.ts';
import { answerCalls } from './answer.ts';
import { loadSolver } from './highs/loadBrowser.ts';

const solver = loadSolver();
// a solver that did not load is told by the first plan that needs it
solver.catch(() => undefined);
const answers = new SurveyAnswers(solver);

answerCalls((ask: SurveyAsk, progress) => answers.answer(ask, progress));
