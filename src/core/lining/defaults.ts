import type { Lining } from '../survey.ts';
import { boardDefaults } from './boards/boardDefaults.ts';
import { fixingDefaults } from './fixing/fixingDefaults.ts';
import { mixDefaults } from './mix/mixDefaults.ts';
import { planeDefaults } from './plane/planeDefaults.ts';
import { workDefaults } from './order/workDefaults.ts';

/** One figure of the trade: what the plan uses unless the user says otherwise, and where it comes from. */
export interface TradeDefault {
  readonly value: number;
  readonly unit:
    | 'mm'
    | 'mm2'
    | 'mm/m'
    | 'share'
    | 'kg/L'
    | 'L/kg'
    | 'kg/m2'
    | 'kg'
    | 'L'
    | 'min'
    | 'min/L'
    | 'degC'
    | 'count';
  /** What it is about: where it stands in the settings. */
  readonly group: 'bed' | 'boards' | 'screws' | 'adhesive' | 'work';
  /** Least and most that make sense. */
  readonly limits: readonly [least: number, most: number];
  readonly meaning: string;
  readonly origin: string;
}

const common = 'common practice, no source';
const own = 'own choice';

/**
 * Every trade figure of the lining plan with its unit and origin. Board sizes and bed limits are not here: they stand in
 * the survey. "From memory" marks figures nobody could look up.
 */
export const tradeDefaults = {
  ...boardDefaults,
  ...fixingDefaults,
  ...mixDefaults,
  ...planeDefaults,
  ...workDefaults,
  floorGapMm: {
    value: 12,
    unit: 'mm',
    group: 'boards',
    limits: [0, 40],
    meaning: 'gap under the boards, held by packers until the adhesive has set',
    origin: `${common} (10-15 mm)`,
  },
  floorGapMostMm: {
    value: 60,
    unit: 'mm',
    group: 'boards',
    limits: [0, 150],
    meaning: 'widest gap under the boards that a skirting board hides, where the stock is a little short',
    origin: common,
  },
  ceilingGapMm: {
    value: 5,
    unit: 'mm',
    group: 'boards',
    limits: [0, 30],
    meaning: 'gap at the ceiling, sealed afterwards',
    origin: `${common} (tight to 5 mm), from memory`,
  },
  minStripMm: {
    value: 300,
    unit: 'mm',
    group: 'boards',
    limits: [100, 600],
    meaning: 'narrowest strip of board: room for two columns of dabs',
    origin: `${common}, from memory`,
  },
  leastPieceMm: {
    value: 50,
    unit: 'mm',
    group: 'boards',
    limits: [20, 150],
    meaning: 'a remainder below this is filled, not boarded: no dab fits between its edges',
    origin: 'twice the 25 mm that a dab keeps from a board edge',
  },
  cornerClearMm: {
    value: 100,
    unit: 'mm',
    group: 'boards',
    limits: [0, 400],
    meaning: 'distance of a board joint from the corner line of an opening',
    origin: `${common} (joints not at corners of openings)`,
  },
  boxClearMm: {
    value: 100,
    unit: 'mm',
    group: 'boards',
    limits: [0, 300],
    meaning: 'distance of a board joint from a box',
    origin: `${common}, from memory`,
  },
  thinAllowanceMm: {
    value: 1,
    unit: 'mm',
    group: 'bed',
    limits: [0, 5],
    meaning: 'shortfall under the least bed that setting a screw by hand would hide',
    origin: own,
  },
  packedShareMost: {
    value: 0.5,
    unit: 'share',
    group: 'bed',
    limits: [0, 1],
    meaning: 'more of the wall than this over packing strips: another way of lining is better',
    origin: own,
  },
  beyondShareMost: {
    value: 0.05,
    unit: 'share',
    group: 'bed',
    limits: [0, 1],
    meaning: 'more of the wall than this beyond packing: another way of lining is better',
    origin: own,
  },
} as const satisfies Record<string, TradeDefault>;

/** Lengths of plug screws (mm) that are on hand where the survey names none. Origin: common practice, no source. */
export const usualScrewLengthsMm: readonly number[] = [40, 50, 60, 70, 80, 100, 120];

/** The figures a plan is made with: one number for each trade default, in its unit. */
export type LiningSettings = { readonly [K in keyof typeof tradeDefaults]: number };

/**
 * The settings of a survey: the user's own figures, within their limits and counts whole, and the trade's where there are none.
 * @example settingsOf({ settings: { floorGapMm: 15, unknown: 3 } }).floorGapMm // 15
 */
export function settingsOf({ settings = {} }: Pick<Lining, 'settings'>): LiningSettings {
  const values = Object.entries<TradeDefault>(tradeDefaults).map(([name, { value, unit, limits }]) => {
    const own = Object.hasOwn(settings, name) ? settings[name]! : value;
    const kept = Math.min(Math.max(own, limits[0]), limits[1]);
    return [name, unit === 'count' ? Math.round(kept) : kept];
  });
  return Object.fromEntries(values) as LiningSettings;
}

/**
 * The settings as the trade has them.
 * @example defaultSettings().floorGapMm // 12
 */
export function defaultSettings(): LiningSettings {
  const values = Object.entries(tradeDefaults).map(([name, { value }]) => [name, value]);
  return Object.fromEntries(values) as LiningSettings;
}
