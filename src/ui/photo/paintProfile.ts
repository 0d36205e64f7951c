import type { Profile } from '../../core/results.ts';
import type { LaserLine } from '../../core/survey.ts';
import type { Chart } from './chart.svelte.ts';
import type { View } from './view.ts';

/** Neighbours further apart than this are not joined (px of the picture, or css px where that is more). */
const BREAK_PX = 4;
const BREAK_CSS_PX = 24;

/**
 * Paints the profile of a line into its strip: the band of the points' sigma and the solved profile faintly behind, the
 * profile itself, and squares on suspects.
 */
export function paintProfile(
  context: OffscreenCanvasRenderingContext2D,
  chart: Chart,
  line: LaserLine,
  solved: Profile | null,
  view: View,
  colour: (name: string) => string,
): void {
  const { run, out, level } = chart;
  if (!run || !out) return;
  const from = Math.max(0, chart.first - 1);
  const until = Math.min(run.px.length, chart.last + 1);
  const breakPx = Math.max(BREAK_PX, BREAK_CSS_PX / view.scale);
  const profile = new Path2D();
  const suspects = new Path2D();
  const band = new Path2D();
  const spot = (i: number, mm: number) => chart.spotAt(run.px[i]!, mm, view);
  for (let first = from; first < until;) {
    let end = first + 1;
    while (end < until && run.px[end]! - run.px[end - 1]! <= breakPx) end++;
    for (let i = first; i < end; i++) {
      const { x, y } = spot(i, out[i]!);
      if (i === first) profile.moveTo(x - 0.5, y);
      profile.lineTo(x, y);
      const upper = spot(i, out[i]! + run.sigma[i]!);
      if (i === first) band.moveTo(upper.x, upper.y);
      else band.lineTo(upper.x, upper.y);
      if (line.points[run.index[i]!]!.state === 'suspect') suspects.rect(x - 2, y - 2, 4, 4);
    }
    for (let i = end - 1; i >= first; i--) {
      const lower = spot(i, out[i]! - run.sigma[i]!);
      band.lineTo(lower.x, lower.y);
    }
    band.closePath();
    first = end;
  }
  context.lineJoin = 'round';
  context.fillStyle = colour('--ruled');
  context.fill(band);
  if (solved) {
    context.lineWidth = 4;
    context.strokeStyle = colour('--rule-ground');
    context.stroke(solvedPath(chart, solved, level ? 'u' : 'v', breakPx, view));
  }
  context.lineWidth = 1.25;
  context.strokeStyle = colour('--pencil');
  context.stroke(profile);
  context.fillStyle = colour('--signal');
  context.fill(suspects);
}

function solvedPath(chart: Chart, solved: Profile, run: 'u' | 'v', breakPx: number, view: View): Path2D {
  const path = new Path2D();
  const order = Array.from(solved[run].keys()).sort((a, b) => solved[run][a]! - solved[run][b]!);
  let before = -Infinity;
  for (const i of order) {
    const { x, y } = chart.spotAt(solved[run][i]!, solved.out[i]!, view);
    // a profile that was solved has a point for every few px
    if (solved[run][i]! - before > 4 * breakPx) path.moveTo(x, y);
    else path.lineTo(x, y);
    before = solved[run][i]!;
  }
  return path;
}
