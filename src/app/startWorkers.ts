/** Starts the worker that decodes photographs and finds the line in them. */
export const startVisionWorker = (): Worker =>
  new Worker(new URL('../../workers/vision.worker.ts', import.meta.url), { type: 'module' });

/** Starts the worker that solves the survey and plans its lining. */
export const startSurveyWorker = (): Worker =>
  new Worker(new URL('../../workers/survey.worker.ts', import.meta.url), { type: 'module' });

/** Starts the worker that follows straight things in photographs, for the lens check. */
export const startLensWorker = (): Worker =>
  new Worker(new URL('../../workers/lens.worker.ts', import.meta.url), { type: 'module' });
