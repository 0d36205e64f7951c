import { flowBlocks, setBlock } from './blocks.ts';
import { placeWall } from './frame.ts';
import { look, makePen } from './look.ts';
import { listLegend, type PlanInput } from './planLegend.ts';
import { drawPlanMap, mapMargins } from './planMap.ts';
import { drawPlanSheet, type Paper } from './planSheet.ts';
import { traceBed } from './planZones.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** How the plan is laid out: a sheet of paper with a title block, or a screen of some width. */
export interface PlanLayout {
  readonly layout?: 'sheet' | 'screen';
  /** The sheet's size, landscape. */
  readonly paper?: Paper;
  /** Width of the screen's drawing, and size of its letters, px. */
  readonly widthPx?: number;
  readonly fontPx?: number;
  /** Version and date, in words, for the title block. */
  readonly note?: string;
}

/** What the drawing shows, said under its title. */
export const planSubtitle = 'Bed depth, boards and gauge screws, seen from the room';

function drawPlanScreen(input: PlanInput, widthPx: number, fontPx: number, note: string): SvgNode {
  const { survey, surface, plan } = input;
  const pen = makePen(fontPx);
  const edge = 0.6 * fontPx;
  const across = widthPx - 2 * edge;
  const heading = setBlock(
    [{ text: survey.title, bold: true }, { text: note === '' ? planSubtitle : `${planSubtitle}. ${note}` }],
    edge,
    edge,
    across,
    pen,
  );
  const top = edge + heading.height + mapMargins.top * fontPx;
  const perMm = (widthPx - (mapMargins.left + mapMargins.right) * fontPx) / survey.wall.width;
  const frame = placeWall(survey.wall, mapMargins.left * fontPx, top, perMm);
  const areas = traceBed(survey, surface, plan);
  const map = drawPlanMap(input, areas, frame, pen);
  const below = frame.bottom + (mapMargins.bottom + 0.6) * fontPx;
  const columns = Math.min(4, Math.max(1, Math.floor(across / (19 * fontPx))));
  const legend = flowBlocks(listLegend(input, areas, map.unwritten, pen), edge, below, across, columns, pen);
  const height = below + legend.height + edge;
  return element(
    'svg',
    { viewBox: `0 0 ${formatNumber(widthPx)} ${formatNumber(height)}`, width: widthPx, height },
    element('rect', { x: 0, y: 0, width: widthPx, height, fill: look.sheet }),
    heading.node,
    map.node,
    legend.node,
  );
}

/**
 * The plan of a lining: the wall straight on with its bed depth in bands and contour lines, what must be done where, the
 * boards, and every gauge screw with the figure it is set to. The same drawing on the screen and in every export; lengths
 * in the survey's units. A sheet is in mm of paper, a screen in px.
 */
export function drawPlan(input: PlanInput, options: PlanLayout = {}): SvgNode {
  const { layout = 'sheet', paper = 'a4', widthPx = 1000, fontPx = 12, note = '' } = options;
  return layout === 'sheet'
    ? drawPlanSheet(input, paper, note)
    : drawPlanScreen(input, widthPx, fontPx, note);
}
