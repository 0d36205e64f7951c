import { tradeDefaults, type TradeDefault } from '../core/lining/defaults.ts';
import type { Lining, Survey } from '../core/survey.ts';
import { withoutFields } from './fields.ts';
import { usualBed } from './newSurvey.ts';

export type SettingName = keyof typeof tradeDefaults;
export type BedLimit = keyof Lining['bed'];

const isKnown = (name: string): name is SettingName => Object.hasOwn(tradeDefaults, name);

/** The survey with other own figures; none at all leaves no list of them behind. */
function withOwn(survey: Survey, own: Readonly<Record<string, number>>): Survey {
  const rest = withoutFields(survey.lining, 'settings');
  return { ...survey, lining: Object.keys(own).length > 0 ? { ...rest, settings: own } : rest };
}

/**
 * The survey with one setting of the user's own (in its unit), or put back to the trade's figure (null). Only what differs from
 * the trade's figure is an own one.
 */
export function setSetting(survey: Survey, name: SettingName, value: number | null): Survey {
  const { settings = {} } = survey.lining;
  const trade: TradeDefault = tradeDefaults[name];
  if (value !== null && value !== trade.value)
    return settings[name] === value ? survey : withOwn(survey, { ...settings, [name]: value });
  if (!Object.hasOwn(settings, name)) return survey;
  return withOwn(survey, withoutFields(settings, name));
}

/** The survey with one limit of the bed set (mm). */
export function setBedLimit(survey: Survey, limit: BedLimit, lengthMm: number): Survey {
  const { lining } = survey;
  if (lining.bed[limit] === lengthMm) return survey;
  return { ...survey, lining: { ...lining, bed: { ...lining.bed, [limit]: lengthMm } } };
}

/** The survey with all settings and bed limits as the trade has them; figures that this version does not know are kept. */
export function putBackSettings(survey: Survey): Survey {
  const { settings = {}, bed } = survey.lining;
  const unknown = Object.fromEntries(Object.entries(settings).filter(([name]) => !isKnown(name)));
  return withOwn({ ...survey, lining: { ...survey.lining, bed: { ...bed, ...usualBed } } }, unknown);
}

/** Names among the own figures of a survey that this version knows nothing of. */
export function listUnknownSettings({ settings = {} }: Pick<Lining, 'settings'>): string[] {
  return Object.keys(settings).filter((name) => !isKnown(name));
}
