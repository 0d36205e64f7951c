import { expect } from 'vitest';
import { settingsOf } from '../../../../src/core/lining/defaults.ts';
import { planFixing } from '../../../../src/core/lining/fixing/planFixing.ts';
import { fillNodes } from '../../../../src/core/lining/nodeGrid.ts';
import { cutPieces } from '../../../../src/core/lining/pieces.ts';
import type { Board } from '../../../../src/core/results.ts';
import type { Lining, Survey, WallSpot } from '../../../../src/core/survey.ts';
import { checkFixing } from '../checkFixing.ts';
import { makeCase, type WallOptions } from '../walls.ts';

export interface FixingOptions extends WallOptions {
  /** Change of the lining. */
  readonly lining?: Partial<Lining>;
  readonly outlineOf?: (board: Board) => readonly WallSpot[] | null;
}

/** Upright boards from the left, openings and boxes cut out: enough of a layout to fix. */
function cutBoards({ wall, lining }: Survey): Board[] {
  const { width, length } = lining.board;
  const count = Math.ceil(wall.width / width);
  const pieces = Array.from({ length: count }, (_, k) => ({
    along: k * width,
    up: 12,
    width: Math.min(width, wall.width - k * width),
    height: Math.min(length, wall.height - 17),
  })).flatMap((rect) => cutPieces(rect, [...wall.openings, ...wall.boxes]));
  return pieces.map(({ rect, cutouts }, k) => ({
    id: `B${k}.`,
    ...rect,
    cutouts,
    outline: null,
    edges: { left: 'bound', right: 'bound' },
    holes: [],
    sheet: '',
    massKg: 0,
    persons: 1,
  }));
}

/** Plans the fixing of a wall on a plane so far out that the least bed is that asked for, and checks it. */
export function fixWall(options: FixingOptions) {
  const made = makeCase(options);
  const survey = { ...made.survey, lining: { ...made.survey.lining, ...options.lining } };
  const { stepMm, nx, ny, out, sigma } = made.surface;
  const p = Math.max(...[...out].filter((value) => !Number.isNaN(value))) + survey.lining.bed.min;
  const bed = fillNodes({ stepMm, nx, ny, values: out.map((value) => p - value) });
  const ground = {
    bed,
    sigma: fillNodes({ stepMm, nx, ny, values: sigma }),
    plane: { p, q: 0, r: 0 },
    limits: survey.lining.bed,
  };
  const boards = cutBoards(survey).map((board) => ({
    ...board,
    outline: options.outlineOf ? options.outlineOf(board) : null,
  }));
  const fixing = planFixing(boards, survey.wall, ground, survey.lining, settingsOf(survey.lining));
  expect(checkFixing(survey, { boards, ...fixing }, bed)).toEqual([]);
  return { survey, boards, bed, ...fixing };
}
