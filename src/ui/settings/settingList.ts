import type { BedLimit, SettingName } from '../../app/editSettings.ts';
import { usualBed } from '../../app/newSurvey.ts';
import { tradeDefaults, type TradeDefault } from '../../core/lining/defaults.ts';
import type { Lining } from '../../core/survey.ts';
import { formatLength, type Units } from '../units.ts';

export type SettingGroup = TradeDefault['group'];

/** One setting as shown: what it means, what the survey says, what the trade has. Values in `unit`. */
export interface SettingEntry {
  /** Of a limit of the bed: which; else the name of the trade default. */
  readonly of:
    | { readonly kind: 'bed'; readonly limit: BedLimit }
    | { readonly kind: 'setting'; readonly name: SettingName };
  readonly key: string;
  readonly group: SettingGroup;
  readonly meaning: string;
  readonly unit: TradeDefault['unit'];
  readonly value: number;
  readonly usual: number;
  readonly limits: readonly [least: number, most: number];
  readonly origin: string;
  /** Whether it is the user's own figure. */
  readonly own: boolean;
}

export const groupNames: { readonly [G in SettingGroup]: string } = {
  bed: 'Bed',
  boards: 'Boards',
  screws: 'Gauge screws',
  adhesive: 'Adhesive and dabs',
  work: 'Work',
};

/** Deepest bed that can be typed, with packing (mm): own choice. */
const PACKED_MOST_MM = 200;

function listBedLimits({ bed }: Lining): SettingEntry[] {
  const said: Record<BedLimit, { meaning: string; limits: readonly [number, number] }> = {
    min: { meaning: 'least bed', limits: [0, bed.max] },
    max: { meaning: 'deepest bed of adhesive alone', limits: [Math.max(1, bed.min), bed.packedMax] },
    packedMax: { meaning: 'deepest bed with packing strips', limits: [bed.max, PACKED_MOST_MM] },
  };
  return (Object.keys(said) as BedLimit[]).map((limit) => ({
    of: { kind: 'bed', limit },
    key: `bed.${limit}`,
    group: 'bed',
    ...said[limit],
    unit: 'mm',
    value: bed[limit],
    usual: usualBed[limit],
    origin: "common practice, no source; the adhesive's own sheet comes first",
    own: bed[limit] !== usualBed[limit],
  }));
}

/** Every setting of a lining: the limits of the bed, then the trade defaults in their order, with the user's own figures. */
export function listSettings(lining: Lining): SettingEntry[] {
  const { settings = {} } = lining;
  const trade = Object.entries<TradeDefault>(tradeDefaults).map(([name, of]): SettingEntry => {
    const own = settings[name];
    return {
      of: { kind: 'setting', name: name as SettingName },
      key: name,
      group: of.group,
      meaning: of.meaning,
      unit: of.unit,
      value: own ?? of.value,
      usual: of.value,
      limits: of.limits,
      origin: of.origin,
      own: own !== undefined && own !== of.value,
    };
  });
  return [...listBedLimits(lining), ...trade];
}

const simplify = (text: string) => text.toLowerCase().normalize('NFKD').replace(/\p{M}/gu, '');

/** The settings in whose words all the words looked for occur; `ownOnly` = of these, the user's own. */
export function findSettings(
  entries: readonly SettingEntry[],
  words: string,
  ownOnly: boolean,
): SettingEntry[] {
  const wanted = simplify(words).split(/\s+/).filter(Boolean);
  return entries.filter((entry) => {
    const text = simplify(
      [entry.meaning, entry.key, groupNames[entry.group], entry.origin, unitName(entry.unit, 'mm')].join(' '),
    );
    return (entry.own || !ownOnly) && wanted.every((word) => text.includes(word));
  });
}

/** The groups that have any of the settings, in the order of the work. */
export function groupSettings(
  entries: readonly SettingEntry[],
): { readonly group: SettingGroup; readonly entries: readonly SettingEntry[] }[] {
  const groups = Object.keys(groupNames) as SettingGroup[];
  return groups
    .map((group) => ({ group, entries: entries.filter((entry) => entry.group === group) }))
    .filter((each) => each.entries.length > 0);
}

/** A survey's figure beyond its limits is brought to the nearest for the plan: the figure used, null where it is within. */
export function usedInstead({ of, value, limits }: SettingEntry): number | null {
  if (of.kind === 'bed') return null;
  const used = Math.min(Math.max(value, limits[0]), limits[1]);
  return used === value ? null : used;
}

const unitNames: Readonly<Record<string, string>> = {
  share: '%',
  mm2: 'mm²',
  'mm/m': 'mm per m',
  'kg/L': 'kg per L',
  'L/kg': 'L per kg',
  'kg/m2': 'kg per m²',
  degC: '°C',
  count: '',
};

/**
 * A unit as it is written.
 * @example unitName('share', 'mm') // '%'
 * @example unitName('mm', 'inch') // 'in'
 */
export function unitName(unit: TradeDefault['unit'], units: Units): string {
  if (unit === 'mm') return units === 'inch' ? 'in' : 'mm';
  return unitNames[unit] ?? unit.replace('/', ' per ').replace('m2', 'm²');
}

/** A sixteenth of an inch is too coarse for lengths that are usually below an eighth (mm). */
const SMALL_MM = 3.2;

/** The units in which a setting is shown: the survey's, but mm for what is too small for inches. */
export function unitsOf({ unit, usual }: Pick<SettingEntry, 'unit' | 'usual'>, units: Units): Units {
  return unit === 'mm' && Math.abs(usual) < SMALL_MM ? 'mm' : units;
}

/**
 * The number a field shows for a value that is no length: a share in percent, anything else as it is.
 * @example shownNumber(0.25, 'share') // '25'
 * @example shownNumber(1.05, 'kg/L') // '1.05'
 */
export function shownNumber(value: number, unit: TradeDefault['unit']): string {
  return String(Number((unit === 'share' ? 100 * value : value).toPrecision(6))).replace('-', '−');
}

/**
 * The value of a number as typed into such a field, with a decimal point or comma; NaN where it is none.
 * @example readNumber('12,5', 'share') // 0.125
 * @example readNumber('two', 'min') // NaN
 */
export function readNumber(text: string, unit: TradeDefault['unit']): number {
  const match = /^([-−+]?)(\d+(?:[.,]\d+)?|[.,]\d+)\s*%?$/.exec(text.trim());
  if (!match || (text.includes('%') && unit !== 'share')) return NaN;
  const number = Number(match[2]!.replace(',', '.')) * (/[-−]/.test(match[1]!) ? -1 : 1);
  return unit === 'share' ? Number((number / 100).toPrecision(12)) : number;
}

/**
 * A value with its unit.
 * @example sayValue(0.1, 'share', 'mm') // '10 %'
 * @example sayValue(12, 'mm', 'mm') // '12 mm'
 */
export function sayValue(value: number, unit: TradeDefault['unit'], units: Units): string {
  if (unit === 'mm') return formatLength(value, units);
  return `${shownNumber(value, unit)} ${unitName(unit, units)}`.trim();
}

/**
 * A text with a capital at its start.
 * @example capital('gap under the boards') // 'Gap under the boards'
 */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
