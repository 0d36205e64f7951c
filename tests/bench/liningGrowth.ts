import { planLining } from '../../src/core/lining/planLining.ts';
import type { ProgrammeSolver } from '../../src/core/lining/programme.ts';
import type { WallRect } from '../../src/core/survey.ts';
import { makeCase } from '../core/lining/walls.ts';
import { solver } from '../solver.ts';

const LENGTHS_MM = [3000, 6000, 12000, 24000];
const TIMES = 2;

/** A door and two windows to every 6 m of wall. */
function listOpenings(widthMm: number): WallRect[] {
  const own = [
    { along: 900, up: 0, width: 900, height: 2000 },
    { along: 2500, up: 900, width: 1100, height: 1200 },
    { along: 4600, up: 900, width: 1000, height: 1200 },
  ];
  return Array.from({ length: Math.ceil(widthMm / 6000) }, (_, k) => 6000 * k)
    .flatMap((from) => own.map((opening) => ({ ...opening, along: opening.along + from })))
    .filter(({ along, width }) => along + width <= widthMm - 300);
}

/** Prints how planning a lining grows with the wall's length: processor time, boards, calls of the solver and how many of them stopped at their limit. */
export function printLiningGrowth(): void {
  let before = NaN;
  for (const width of LENGTHS_MM) {
    const { survey, surface } = makeCase({
      width,
      openings: listOpenings(width),
      reveal: 150,
      out: (along, up) => -60 + 8 * Math.sin(along / 600) * Math.cos(up / 800) + 0.002 * along,
    });
    let calls = 0;
    let stopped = 0;
    const counted: ProgrammeSolver = (programme, limits) => {
      const end = solver(programme, limits);
      calls++;
      if (end.ended === 'stopped') stopped++;
      return end;
    };
    let ms = Infinity;
    let told = 0;
    let plan = planLining(survey, surface, counted, () => told++);
    for (let turn = 0; turn < TIMES; turn++) {
      [calls, stopped, told] = [0, 0, 0];
      const start = process.cpuUsage();
      plan = planLining(survey, surface, counted, () => told++);
      ms = Math.min(ms, process.cpuUsage(start).user / 1000);
    }
    const growth = Number.isNaN(before) ? '' : `, ${(ms / before).toFixed(2)} times the length before`;
    before = ms;
    const { boards, reveals, cutting, screws } = plan;
    console.log(
      `wall ${width} mm, ${survey.wall.openings.length} openings: ${ms.toFixed(0)} ms${growth}; progress told ${told} times`,
    );
    console.log(
      `  ${boards.length} boards, ${reveals.length} reveal boards, ${screws.length} screws; ${cutting.sheets.length} stock boards, ` +
        `${cutting.proven ? 'proven' : `${cutting.sheetsLeast} at least`}, ${cutting.cuts} cuts; ${calls} programmes solved, ${stopped} stopped at the limit of nodes`,
    );
  }
}
