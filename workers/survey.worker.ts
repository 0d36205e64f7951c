import { SurveyAnswers, type SurveyAsk } from '../src/vision/surveyAsk.ts';
import { answerCalls } from './answer.ts';

const answers = new SurveyAnswers();

answerCalls((ask: SurveyAsk, progress) => answers.answer(ask, progress));
