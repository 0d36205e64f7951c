import type { Lens, Survey } from '../core/survey.ts';

/** The survey with what is known of one phone's lens; keys that the lens or the phone has beyond are kept. */
export function setLens(survey: Survey, phoneId: string, lens: Lens): Survey {
  if (!survey.phones.some(({ id }) => id === phoneId))
    throw new Error(`phone: expected one of ${survey.phones.map(({ id }) => id).join(', ')}, got ${phoneId}`);
  const phones = survey.phones.map((phone) =>
    phone.id === phoneId ? { ...phone, lens: { ...phone.lens, ...lens } } : phone,
  );
  return { ...survey, phones };
}
