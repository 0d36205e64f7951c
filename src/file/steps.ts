/** A survey file as read, before its schema: some object of the version it says. */
export type SurveyObject = Readonly<Record<string, unknown>>;

/** One step of the file's history: a survey of version n becomes one of version n + 1. */
export type VersionStep = (survey: SurveyObject) => SurveyObject;

/** The steps in order; the first leads from version 1 to 2. A version that was ever released keeps its step for ever. */
export const versionSteps: readonly VersionStep[] = [];

/** The newest version that is known. */
export const knownVersion = versionSteps.length + 1;

/**
 * Brings a survey of version `from` up to the newest by all steps from there on.
 * @example stepUp({ version: 1 }, 1, [(old) => ({ ...old, added: true })]) // { version: 2, added: true }
 */
export function stepUp(survey: SurveyObject, from: number, steps: readonly VersionStep[]): SurveyObject {
  return steps
    .slice(from - 1)
    .reduce((old, step, index) => ({ ...step(old), version: from + index + 1 }), survey);
}
