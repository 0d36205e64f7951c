import type { TradeDefault } from '../defaults.ts';

const common = 'common practice, no source';
const own = 'own choice';

/** Trade figures of the work around the mixes: waiting, temperature, coats, fixings after the adhesive has set. */
export const workDefaults = {
  primerDryMin: {
    value: 240,
    unit: 'min',
    group: 'work',
    limits: [15, 2880],
    meaning: 'drying time of the primer, where its own sheet says no other',
    origin: common,
  },
  packingSetMin: {
    value: 120,
    unit: 'min',
    group: 'work',
    limits: [30, 2880],
    meaning: 'wait between the packing strips and the boards on them',
    origin: `pads set before boarding in a book on bonding to a solid wall; how long is an ${own}`,
  },
  letGoMin: {
    value: 10,
    unit: 'min',
    group: 'work',
    limits: [0, 240],
    meaning: 'time a board is held or braced once it is pressed home',
    origin: own,
  },
  packersOutMin: {
    value: 120,
    unit: 'min',
    group: 'work',
    limits: [30, 2880],
    meaning: 'time the packers stay under a board',
    origin: `packers stay until the adhesive has set: common practice, from memory; how long is an ${own}`,
  },
  jointsMin: {
    value: 960,
    unit: 'min',
    group: 'work',
    limits: [360, 20160],
    meaning: 'wait from the last board to filling the joints and to fixings through the boards',
    origin: 'dabs set and dry, at least overnight: from memory; 6 h at least on a DIY page',
  },
  wallLeastC: {
    value: 5,
    unit: 'degC',
    group: 'work',
    limits: [2, 15],
    meaning: 'coldest wall and air until the adhesive is dry',
    origin:
      'course on dry lining: over 5 degC; a gypsum filler sheet: setting nearly stops below; one maker: 2 degC',
  },
  jointLeastC: {
    value: 10,
    unit: 'degC',
    group: 'work',
    limits: [5, 20],
    meaning: 'coldest room for filling joints',
    origin: 'DIN 18181, as a German guide quotes it',
  },
  dubCoatMm: {
    value: 15,
    unit: 'mm',
    group: 'work',
    limits: [5, 30],
    meaning: 'thickest coat where the wall is dubbed out before lining',
    origin: `${common} (10-15 mm a coat), from memory`,
  },
  secondaryPerBoard: {
    value: 0,
    unit: 'count',
    group: 'work',
    limits: [0, 20],
    meaning: 'nailable plugs through each board after the adhesive has set',
    origin:
      'none for plain board, from memory; insulated laminate: 2, from memory, 9 with resin adhesive in a UK warranty standard',
  },
} as const satisfies Record<string, TradeDefault>;
