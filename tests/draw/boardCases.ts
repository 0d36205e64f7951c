// Boards, stock boards and dabs made up to be drawn: every sort of cut, hole and slope.
import type { Dab, PackingStrip, StockSheet } from '../../src/core/liningPlan.ts';
import type { Board, GaugeScrew } from '../../src/core/results.ts';
import { drawBoard } from '../../src/draw/boardPicture.ts';
import { drawCuttingSheet } from '../../src/draw/cuttingSheet.ts';
import { drawBoardDabs, drawWallDabs, type DabInput } from '../../src/draw/dabPicture.ts';
import type { SvgNode } from '../../src/draw/tree.ts';
import { makeSurvey } from './walls.ts';

const plain: Board = {
  id: 'A',
  along: 0,
  up: 12,
  width: 1200,
  height: 2433,
  cutouts: [],
  outline: null,
  edges: { left: 'bound', right: 'bound' },
  holes: [],
  sheet: 'S1',
  massKg: 25.1,
  persons: 2,
};

/** A window from the right edge (an L cut leaves both ends whole: a U lying down) and a socket hole. */
export const uCutBoard: Board = {
  ...plain,
  cutouts: [
    { along: 900, up: 912, width: 300, height: 1200 },
    { along: 400, up: 300, width: 80, height: 80 },
  ],
  holes: [{ box: 'b1', fromLeft: 400, fromBottom: 288, width: 80, height: 80 }],
  edges: { left: 'cut', right: 'bound' },
};

/** A board in whole inches, 48 in wide, whose top falls from 97 to 95 in and whose bottom rises by 1 in; a switch in it. */
export const slopingBoard: Board = {
  ...plain,
  id: 'C',
  along: 2438.4,
  up: 12.7,
  width: 1219.2,
  height: 2463.8,
  outline: [
    { along: 2438.4, up: 12.7 },
    { along: 3657.6, up: 38.1 },
    { along: 3657.6, up: 2425.7 },
    { along: 2438.4, up: 2476.5 },
  ],
  holes: [{ box: 'b2', fromLeft: 127, fromBottom: 1092.2, width: 76.2, height: 76.2 }],
  edges: { left: 'bound', right: 'cut' },
};

/** Over a door: low and wide, with its head cut out at the lower right corner. */
export const lCutBoard: Board = {
  ...plain,
  id: 'D',
  along: 1200,
  up: 1850,
  height: 595,
  cutouts: [{ along: 1500, up: 1850, width: 900, height: 200 }],
  persons: 1,
};

/** A stock board cut for two boards, a reveal and packing, with two offcuts. */
export const stockSheet: StockSheet = {
  id: 'S1',
  width: 1200,
  length: 2600,
  pieces: [
    { piece: 'B', x: 0, y: 0, width: 700, length: 2433, turn: 0 },
    { piece: 'F', x: 700, y: 0, width: 500, length: 905, turn: 180 },
    { piece: 'o1 left', x: 700, y: 905, width: 140, length: 1200, turn: 0 },
    { piece: 'packing', x: 840, y: 905, width: 75, length: 600, turn: 0 },
  ],
  offcuts: [
    { along: 915, up: 905, width: 285, height: 1200 },
    { along: 0, up: 2433, width: 1200, height: 167 },
  ],
  cuts: 6,
};

/** Board A with ten dabs in two columns, deeper from one to the next, the bottom strip, packing under one dab, and four gauge screws. */
export function makeDabbed(): DabInput & { readonly board: Board } {
  const board: Board = { ...plain, edges: { left: 'cut', right: 'bound' } };
  const middles = [300, 900].flatMap((x) => [300, 750, 1200, 1650, 2100].map((y) => [x, y] as const));
  const dabs = middles.map(([x, y], k): Dab => ({
    board: board.id,
    kind: 'dab',
    packing: k === 3 ? 'P1' : null,
    along: x - 35,
    up: 12 + y - 125,
    width: 70,
    height: 250,
    depthMm: 8 + 2 * k,
    volumeL: (70 * 250 * (8 + 2 * k)) / 1e6,
  }));
  const bottom: Dab = {
    ...dabs[0]!,
    kind: 'bottom',
    along: 25,
    up: 37,
    width: 1150,
    height: 75,
    depthMm: 12,
  };
  const strip: PackingStrip = {
    id: 'P1',
    board: board.id,
    along: 262,
    up: 1450,
    width: 75,
    height: 420,
    layers: 1,
    bedMm: 26,
    underMm: 6.5,
    overMm: 7,
    volumeL: 0.2,
  };
  const screws = [60, 1140].flatMap((along, i) =>
    [110, 2340].map((up, j): GaugeScrew => ({
      id: `A${2 * i + j + 1}`,
      board: board.id,
      along,
      up,
      projection: 12,
      sigma: 0.8,
      fromLaser: 50,
      zone: 'normal',
      screwMm: 60,
      services: null,
    })),
  );
  return {
    survey: makeSurvey(),
    board,
    plan: {
      boards: [board],
      screws,
      dabs: [...dabs, bottom],
      packing: { strips: [strip], cuts: [{ widthMm: 75, lengthMm: 420, count: 1 }] },
    },
  };
}

const { wall } = makeSurvey();

export const boardCases: readonly { readonly name: string; readonly draw: () => SvgNode }[] = [
  { name: 'board-u-cut', draw: () => drawBoard({ board: uCutBoard, wall, units: 'mm' }) },
  {
    name: 'board-slope-inch',
    draw: () => drawBoard({ board: slopingBoard, wall, units: 'inch' }, { widthPx: 360, fontPx: 12 }),
  },
  { name: 'board-l-cut', draw: () => drawBoard({ board: lCutBoard, wall, units: 'mm' }) },
  { name: 'cutting-sheet', draw: () => drawCuttingSheet(stockSheet, 'mm') },
  { name: 'cutting-sheet-inch', draw: () => drawCuttingSheet(stockSheet, 'inch', { widthPx: 236 }) },
  {
    name: 'dabs-board',
    draw: () => {
      const { survey, plan, board } = makeDabbed();
      return drawBoardDabs({ survey, plan }, board);
    },
  },
  {
    name: 'dabs-wall-phone',
    draw: () => {
      const { survey, plan } = makeDabbed();
      return drawWallDabs({ survey, plan }, { widthPx: 340, fontPx: 10 });
    },
  },
];
