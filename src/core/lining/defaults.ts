import type { Lining } from '../survey.ts';

/** One figure of the trade: what the plan uses unless the user says otherwise, and where it comes from. */
export interface TradeDefault {
  readonly value: number;
  readonly unit:
    'mm' | 'mm2' | 'mm/m' | 'share' | 'kg/L' | 'L/kg' | 'kg/m2' | 'kg' | 'L' | 'min' | 'degC' | 'count';
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
  screwColumnMm: {
    value: 600,
    unit: 'mm',
    group: 'screws',
    limits: [300, 1200],
    meaning: 'widest spacing of gauge screws across a board',
    origin: `${common} (rows of 2-3 per board)`,
  },
  screwRowLeastMm: {
    value: 500,
    unit: 'mm',
    group: 'screws',
    limits: [200, 1000],
    meaning: 'closest rows of gauge screws',
    origin: common,
  },
  screwRowMostMm: {
    value: 600,
    unit: 'mm',
    group: 'screws',
    limits: [300, 1200],
    meaning: 'widest rows of gauge screws',
    origin: common,
  },
  screwEndMm: {
    value: 100,
    unit: 'mm',
    group: 'screws',
    limits: [25, 300],
    meaning: 'gauge screws from the top and bottom of a board',
    origin: own,
  },
  screwEndMostMm: {
    value: 160,
    unit: 'mm',
    group: 'screws',
    limits: [25, 400],
    meaning: 'the same where it saves a row',
    origin: own,
  },
  screwEdgeMm: {
    value: 60,
    unit: 'mm',
    group: 'screws',
    limits: [25, 300],
    meaning: 'gauge screws from the side edges of a board',
    origin: own,
  },
  screwEdgeLeastMm: {
    value: 25,
    unit: 'mm',
    group: 'screws',
    limits: [10, 100],
    meaning: 'least distance of a gauge screw from any edge of a board',
    origin: own,
  },
  screwOpeningClearMm: {
    value: 50,
    unit: 'mm',
    group: 'screws',
    limits: [0, 300],
    meaning: 'gauge screw from an opening',
    origin: own,
  },
  screwBoxClearMm: {
    value: 60,
    unit: 'mm',
    group: 'screws',
    limits: [0, 300],
    meaning: 'gauge screw from a box',
    origin: own,
  },
  screwShiftMm: {
    value: 200,
    unit: 'mm',
    group: 'screws',
    limits: [0, 500],
    meaning: 'how far a gauge screw may be moved out of the way before it is left out',
    origin: own,
  },
  screwApartMm: {
    value: 150,
    unit: 'mm',
    group: 'screws',
    limits: [50, 500],
    meaning: 'least distance between two gauge screws of one board',
    origin: own,
  },
  coverageShare: {
    value: 0.25,
    unit: 'share',
    group: 'adhesive',
    limits: [0.1, 1],
    meaning: 'pressed contact of the adhesive with the back of the board',
    origin: 'at least 0.20 in a UK guide to bonding on dabs; 0.20-0.25 usual, from memory',
  },
  powderKgPerL: {
    value: 1.05,
    unit: 'kg/L',
    group: 'adhesive',
    limits: [0.5, 2],
    meaning: 'powder in a litre of bed, with the air that mixing entrains',
    origin: 'reckoned from a water/powder ratio of 0.5; agrees with 2.5-5.0 kg/m2 on an adhesive data sheet',
  },
  waterLPerKg: {
    value: 0.5,
    unit: 'L/kg',
    group: 'adhesive',
    limits: [0.3, 1],
    meaning: 'mixing water per kilogram of powder',
    origin: 'gypsum adhesive data sheet',
  },
  bagKg: {
    value: 25,
    unit: 'kg',
    group: 'adhesive',
    limits: [1, 50],
    meaning: 'powder in a bag',
    origin: common,
  },
  wasteShare: {
    value: 0.1,
    unit: 'share',
    group: 'adhesive',
    limits: [0, 0.5],
    meaning: 'adhesive mixed but not pressed on the wall',
    origin: common,
  },
  potLifeMin: {
    value: 30,
    unit: 'min',
    group: 'adhesive',
    limits: [5, 180],
    meaning: 'usable life of a mix',
    origin: `${common}; 30-60 min on data sheets and guides`,
  },
  mixMostKg: {
    value: 15,
    unit: 'kg',
    group: 'adhesive',
    limits: [1, 50],
    meaning: 'powder in one mix: what a 25 L bucket takes with room to stir',
    origin: common,
  },
  dabEdgeMm: {
    value: 25,
    unit: 'mm',
    group: 'adhesive',
    limits: [10, 150],
    meaning: 'dabs from the edges of the board',
    origin: 'UK specification clause (after BS 8212)',
  },
  dabRowMm: {
    value: 300,
    unit: 'mm',
    group: 'adhesive',
    limits: [100, 600],
    meaning: 'widest spacing of dabs up a column',
    origin: 'UK guides to bonding on dabs',
  },
  dabLeastMm2: {
    value: 12500,
    unit: 'mm2',
    group: 'adhesive',
    limits: [1000, 100000],
    meaning: 'least footprint of a dab: 50 x 250 mm',
    origin: 'UK specification clause (after BS 8212)',
  },
  stripWidthMm: {
    value: 75,
    unit: 'mm',
    group: 'adhesive',
    limits: [0, 200],
    meaning: 'continuous strip of adhesive along the bottom edge',
    origin: 'UK guide to bonding on dabs (perimeter bead)',
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

/** The figures a plan is made with: one number for each trade default, in its unit. */
export type LiningSettings = { readonly [K in keyof typeof tradeDefaults]: number };

/**
 * The settings of a survey: the user's own figures, within their limits, and the trade's where there are none.
 * @example settingsOf({ settings: { floorGapMm: 15, unknown: 3 } }).floorGapMm // 15
 */
export function settingsOf({ settings = {} }: Pick<Lining, 'settings'>): LiningSettings {
  const values = Object.entries<TradeDefault>(tradeDefaults).map(([name, { value, limits }]) => {
    const own = settings[name];
    return [name, own === undefined ? value : Math.min(Math.max(own, limits[0]), limits[1])];
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
