import type { TradeDefault } from '../defaults.ts';

const common = 'common practice, no source';
const own = 'own choice';

/** Trade figures of the boards themselves: their mass, who lifts them, their tolerances, and the boards of reveals. */
export const boardDefaults = {
  boardKgPerM2: {
    value: 0,
    unit: 'kg/m2',
    group: 'boards',
    limits: [0, 40],
    meaning: 'mass of the board; 0 = by its thickness from the three figures below',
    origin: own,
  },
  thinBoardKgPerM2: {
    value: 6.3,
    unit: 'kg/m2',
    group: 'boards',
    limits: [3, 20],
    meaning: 'mass of a board 9.5 mm thick',
    origin: 'published measurement of sound insulation of a lined wall',
  },
  usualBoardKgPerM2: {
    value: 8.6,
    unit: 'kg/m2',
    group: 'boards',
    limits: [5, 25],
    meaning: 'mass of a board 12.5 mm thick',
    origin: 'UK list of plasterboard sizes',
  },
  thickBoardKgPerM2: {
    value: 11.5,
    unit: 'kg/m2',
    group: 'boards',
    limits: [6, 30],
    meaning: 'mass of a board 15 mm thick',
    origin: 'standard board, from memory',
  },
  liftAloneKg: {
    value: 25,
    unit: 'kg',
    group: 'boards',
    limits: [5, 60],
    meaning: 'heaviest board that one person carries',
    origin: 'British guideline figure for lifting at the waist, from memory',
  },
  liftAloneMm: {
    value: 1800,
    unit: 'mm',
    group: 'boards',
    limits: [1000, 6000],
    meaning: 'longest board that one person carries on edge and stands up',
    origin: `${own}; guidance on handling boards asks for two persons for each`,
  },
  boardWidthUnderMm: {
    value: 4,
    unit: 'mm',
    group: 'boards',
    limits: [0, 10],
    meaning: 'by how much a board may be narrower than it is sold as',
    origin: 'EN 520: width +0/-4 mm, from memory',
  },
  boardLengthUnderMm: {
    value: 5,
    unit: 'mm',
    group: 'boards',
    limits: [0, 10],
    meaning: 'by how much a board may be shorter than it is sold as',
    origin: 'EN 520: length +0/-5 mm, from memory',
  },
  revealBedMm: {
    value: 10,
    unit: 'mm',
    group: 'boards',
    limits: [0, 40],
    meaning: "adhesive behind the boards of an opening's reveal",
    origin: `${common} (about 10 mm on even blockwork)`,
  },
} as const satisfies Record<string, TradeDefault>;
