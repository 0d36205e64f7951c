import type { TradeDefault } from '../defaults.ts';

const common = 'common practice, no source';
const own = 'own choice';

/** Trade figures of the bed plane: faces to meet, high spots, and what the comparison with other ways of lining takes. */
export const planeDefaults = {
  faceToleranceMm: {
    value: 1,
    unit: 'mm',
    group: 'bed',
    limits: [0, 10],
    meaning: "how far off a face the boards' face may be to count as flush with it",
    origin: own,
  },
  hackRadiusMm: {
    value: 250,
    unit: 'mm',
    group: 'bed',
    limits: [50, 1000],
    meaning: 'how far round its middle a high spot is hacked off at most',
    origin: own,
  },
  hackDepthMm: {
    value: 30,
    unit: 'mm',
    group: 'bed',
    limits: [1, 100],
    meaning: 'how deep a high spot may be hacked off',
    origin: own,
  },
  hackSpotsMost: {
    value: 8,
    unit: 'count',
    group: 'bed',
    limits: [0, 12],
    meaning: 'most spots that are proposed to be hacked off',
    origin: own,
  },
  hackWorthMm: {
    value: 0.1,
    unit: 'mm',
    group: 'bed',
    limits: [0, 5],
    meaning: 'mean bed that hacking off must save to be proposed',
    origin: own,
  },
  setPerPowder: {
    value: 1.19,
    unit: 'share',
    group: 'adhesive',
    limits: [1, 1.5],
    meaning: 'weight of the set adhesive for each kilogram of powder: the powder and the water that it binds',
    origin: 'reckoned from the water that gypsum binds in setting',
  },
  frameDepthMm: {
    value: 27,
    unit: 'mm',
    group: 'bed',
    limits: [15, 150],
    meaning: 'depth of a frame in front of the high point, for comparison',
    origin: `${common} (27-50 mm with furrings), from memory`,
  },
  frameKgPerM2: {
    value: 1.5,
    unit: 'kg/m2',
    group: 'bed',
    limits: [0.5, 10],
    meaning: 'weight of a frame without its boards, for comparison',
    origin: `${common} (1-2 kg/m2), from memory`,
  },
  plasterLeastMm: {
    value: 5,
    unit: 'mm',
    group: 'bed',
    limits: [1, 30],
    meaning: 'least thickness of gypsum plaster at the high point, for comparison',
    origin: 'gypsum industry page on DIN 18550-2',
  },
  plasterMeanMm: {
    value: 10,
    unit: 'mm',
    group: 'bed',
    limits: [3, 50],
    meaning: 'least mean thickness of gypsum plaster, for comparison',
    origin: 'gypsum industry page on DIN 18550-2',
  },
  plasterKgPerL: {
    value: 1.05,
    unit: 'kg/L',
    group: 'bed',
    limits: [0.5, 2.2],
    meaning: 'weight of set gypsum plaster: kg/m2 for each millimetre, for comparison',
    origin: `${common} (0.9-1.2; cement-lime 1.8-2.0), from memory`,
  },
} as const satisfies Record<string, TradeDefault>;
