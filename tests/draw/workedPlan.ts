// A plan with all that can be drawn on it: spots to hack off, packing, a sloping ceiling, screws near services; and a trade-off.
import type { HackedSpot, HackOption, PackingStrip } from '../../src/core/liningPlan.ts';
import { roughPlan, type DrawnWall } from './walls.ts';

const makeSpot = (id: string, along: number, up: number, radiusMm: number, depthMm: number): HackedSpot => ({
  id,
  along,
  up,
  deepest: { along, up },
  area: { along: along - radiusMm, up: up - radiusMm, width: 2 * radiusMm, height: 2 * radiusMm },
  areaM2: (Math.PI * radiusMm ** 2) / 1e6,
  depthMm,
});

export const spots: readonly HackedSpot[] = [
  makeSpot('h1', 2900, 1900, 240, 6.4),
  makeSpot('h2', 900, 700, 120, 3.1),
];

const makeStrip = (id: string, along: number, layers: number): PackingStrip => ({
  id,
  board: '1',
  along,
  up: 1600,
  width: 100,
  height: 700,
  layers,
  bedMm: 26,
  underMm: 6.75,
  overMm: 6.75,
  volumeL: 0.5,
});

/** The rough wall with spots picked, strips, a ceiling that falls to the right, and two screws near cables. */
export function workedPlan(): DrawnWall {
  const { survey, solution, plan } = roughPlan();
  const { width, height } = survey.wall;
  const ceiling = [
    { along: 0, up: height },
    { along: width, up: height - 90 },
  ];
  const atCeiling = (along: number) => height - 90 * (along / width) - 5;
  const boards = plan.boards.map((board) => {
    const { along, up, width: wide, height: high } = board;
    const right = along + wide;
    if (up + high < height - 120) return board;
    const outline = [
      { along, up },
      { along: right, up },
      { along: right, up: atCeiling(right) },
      { along, up: atCeiling(along) },
    ];
    return { ...board, outline };
  });
  const screws = plan.screws.map((screw, k) => (k % 20 === 3 ? { ...screw, services: 'b1' } : screw));
  const strips = [makeStrip('p1', 450, 1), makeStrip('p2', 700, 2)];
  return {
    survey: { ...survey, wall: { ...survey.wall, ceiling } },
    solution,
    plan: { ...plan, boards, screws, hacked: spots, packing: { strips, cuts: [] } },
  };
}

const makeOption = (count: number, meanBedMm: number, proven = true): HackOption => ({
  spots: Array.from({ length: count }, (_, k) => makeSpot(`h${k + 1}`, 400 + 350 * k, 600, 200, 4 + k)),
  meanBedMm,
  maxBedMm: meanBedMm + 14,
  overMaxShare: 0.1 - 0.01 * count,
  overPackedShare: 0,
  adhesiveL: 2.1 * meanBedMm,
  powderKg: 2.43 * meanBedMm,
  setKg: 2.6 * meanBedMm,
  roomMm: 15.2 - meanBedMm,
  proven,
});

/** Hacking off none to six spots, five left out as it gains nothing over four; the last not proven. */
export const options: readonly HackOption[] = [
  makeOption(0, 15.2),
  makeOption(1, 12.9),
  makeOption(2, 11.6),
  makeOption(3, 11.1),
  makeOption(4, 10.8),
  makeOption(6, 10.6, false),
];
