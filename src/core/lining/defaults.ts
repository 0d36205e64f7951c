/** One figure of the trade: what the plan uses unless the user says otherwise, and where it comes from. */
export interface TradeDefault {
  readonly value: number;
  readonly unit: 'mm' | 'mm2' | 'share' | 'kg/L' | 'L/kg' | 'kg' | 'min';
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
    meaning: 'gap under the boards, held by packers until the adhesive has set',
    origin: `${common} (10-15 mm)`,
  },
  floorGapMostMm: {
    value: 60,
    unit: 'mm',
    meaning: 'widest gap under the boards that a skirting board hides, where the stock is a little short',
    origin: common,
  },
  ceilingGapMm: {
    value: 5,
    unit: 'mm',
    meaning: 'gap at the ceiling, sealed afterwards',
    origin: `${common} (tight to 5 mm), from memory`,
  },
  minStripMm: {
    value: 300,
    unit: 'mm',
    meaning: 'narrowest strip of board: room for two columns of dabs',
    origin: `${common}, from memory`,
  },
  leastPieceMm: {
    value: 50,
    unit: 'mm',
    meaning: 'a remainder below this is filled, not boarded: no dab fits between its edges',
    origin: 'twice the 25 mm that a dab keeps from a board edge',
  },
  cornerClearMm: {
    value: 100,
    unit: 'mm',
    meaning: 'distance of a board joint from the corner line of an opening',
    origin: `${common} (joints not at corners of openings)`,
  },
  boxClearMm: {
    value: 100,
    unit: 'mm',
    meaning: 'distance of a board joint from a box',
    origin: `${common}, from memory`,
  },
  screwColumnMm: {
    value: 600,
    unit: 'mm',
    meaning: 'widest spacing of gauge screws across a board',
    origin: `${common} (rows of 2-3 per board)`,
  },
  screwRowLeastMm: {
    value: 500,
    unit: 'mm',
    meaning: 'closest rows of gauge screws',
    origin: common,
  },
  screwRowMostMm: {
    value: 600,
    unit: 'mm',
    meaning: 'widest rows of gauge screws',
    origin: common,
  },
  screwEndMm: {
    value: 100,
    unit: 'mm',
    meaning: 'gauge screws from the top and bottom of a board',
    origin: own,
  },
  screwEndMostMm: {
    value: 160,
    unit: 'mm',
    meaning: 'the same where it saves a row',
    origin: own,
  },
  screwEdgeMm: {
    value: 60,
    unit: 'mm',
    meaning: 'gauge screws from the side edges of a board',
    origin: own,
  },
  screwEdgeLeastMm: {
    value: 25,
    unit: 'mm',
    meaning: 'least distance of a gauge screw from any edge of a board',
    origin: own,
  },
  screwOpeningClearMm: {
    value: 50,
    unit: 'mm',
    meaning: 'gauge screw from an opening',
    origin: own,
  },
  screwBoxClearMm: {
    value: 60,
    unit: 'mm',
    meaning: 'gauge screw from a box',
    origin: own,
  },
  screwShiftMm: {
    value: 200,
    unit: 'mm',
    meaning: 'how far a gauge screw may be moved out of the way before it is left out',
    origin: own,
  },
  screwApartMm: {
    value: 150,
    unit: 'mm',
    meaning: 'least distance between two gauge screws of one board',
    origin: own,
  },
  coverageShare: {
    value: 0.25,
    unit: 'share',
    meaning: 'pressed contact of the adhesive with the back of the board',
    origin: 'at least 0.20 in a UK guide to bonding on dabs; 0.20-0.25 usual, from memory',
  },
  powderKgPerL: {
    value: 1.05,
    unit: 'kg/L',
    meaning: 'powder in a litre of bed, with the air that mixing entrains',
    origin: 'reckoned from a water/powder ratio of 0.5; agrees with 2.5-5.0 kg/m2 on an adhesive data sheet',
  },
  waterLPerKg: {
    value: 0.5,
    unit: 'L/kg',
    meaning: 'mixing water per kilogram of powder',
    origin: 'gypsum adhesive data sheet',
  },
  bagKg: { value: 25, unit: 'kg', meaning: 'powder in a bag', origin: common },
  wasteShare: {
    value: 0.1,
    unit: 'share',
    meaning: 'adhesive mixed but not pressed on the wall',
    origin: common,
  },
  potLifeMin: {
    value: 30,
    unit: 'min',
    meaning: 'usable life of a mix',
    origin: `${common}; 30-60 min on data sheets and guides`,
  },
  mixMostKg: {
    value: 15,
    unit: 'kg',
    meaning: 'powder in one mix: what a 25 L bucket takes with room to stir',
    origin: common,
  },
  dabEdgeMm: {
    value: 25,
    unit: 'mm',
    meaning: 'dabs from the edges of the board',
    origin: 'UK specification clause (after BS 8212)',
  },
  dabRowMm: {
    value: 300,
    unit: 'mm',
    meaning: 'widest spacing of dabs up a column',
    origin: 'UK guides to bonding on dabs',
  },
  dabLeastMm2: {
    value: 12500,
    unit: 'mm2',
    meaning: 'least footprint of a dab: 50 x 250 mm',
    origin: 'UK specification clause (after BS 8212)',
  },
  stripWidthMm: {
    value: 75,
    unit: 'mm',
    meaning: 'continuous strip of adhesive along the bottom edge',
    origin: 'UK guide to bonding on dabs (perimeter bead)',
  },
  thinAllowanceMm: {
    value: 1,
    unit: 'mm',
    meaning: 'shortfall under the least bed that setting a screw by hand would hide',
    origin: own,
  },
  packedShareMost: {
    value: 0.5,
    unit: 'share',
    meaning: 'more of the wall than this over packing strips: another way of lining is better',
    origin: own,
  },
  beyondShareMost: {
    value: 0.05,
    unit: 'share',
    meaning: 'more of the wall than this beyond packing: another way of lining is better',
    origin: own,
  },
} as const satisfies Record<string, TradeDefault>;

/** The figures a plan is made with: one number for each trade default, in its unit. */
export type LiningSettings = { readonly [K in keyof typeof tradeDefaults]: number };

/**
 * The settings as the trade has them.
 * @example defaultSettings().floorGapMm // 12
 */
export function defaultSettings(): LiningSettings {
  const values = Object.entries(tradeDefaults).map(([name, { value }]) => [name, value]);
  return Object.fromEntries(values) as LiningSettings;
}
