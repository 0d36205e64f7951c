import type { Survey } from '../core/survey.ts';
import { flowBlocks } from './blocks.ts';
import { placeWall } from './frame.ts';
import { look, makePen, type Pen } from './look.ts';
import { listLegend, type PlanInput } from './planLegend.ts';
import { drawPlanMap, mapMargins } from './planMap.ts';
import { traceBed } from './planZones.ts';
import { label, wrapText } from './text.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';
import type { Area } from './room.ts';

/** Sizes of paper, landscape (mm; ISO 216), and the letters that go with them. */
export const papers = {
  a4: { width: 297, height: 210, font: 3.3 },
  a3: { width: 420, height: 297, font: 4 },
} as const;
export type Paper = keyof typeof papers;

/** Edge that printers leave white, mm; own choice. */
const edgeMm = 8;
/** Scales that are in use: the wall is drawn in the largest that fits. */
const scales = [1, 2, 5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 300, 500];

/** The largest usual scale (1 : n) at which the wall fits into a room (mm of paper). */
export function chooseScale({ width, height }: Pick<Survey['wall'], 'width' | 'height'>, room: Area): number {
  const least = Math.max(width / (room.right - room.left), height / (room.bottom - room.top));
  return scales.find((scale) => scale >= least) ?? Math.ceil(least / 100) * 100;
}

/** Where the wall, the legend and the title block lie on the sheet. */
interface SheetLayout {
  readonly wall: Area;
  readonly legend: Area;
  readonly columns: number;
  readonly title: Area;
}

/** The legend in a column on the right, or below a long wall: whichever leaves the wall the larger scale. */
function layOutSheet(wall: Survey['wall'], paper: Paper, pen: Pen): SheetLayout & { readonly scale: number } {
  const { width, height } = papers[paper];
  const { font } = pen;
  const inner = { left: edgeMm, top: edgeMm, right: width - edgeMm, bottom: height - edgeMm };
  const gap = 1.2 * font;
  const within = (area: Area): Area => ({
    left: area.left + mapMargins.left * font,
    right: area.right - mapMargins.right * font,
    top: area.top + mapMargins.top * font,
    bottom: area.bottom - mapMargins.bottom * font,
  });
  const column = 22 * font;
  const titleHigh = 8.5 * font;
  const foot = 20 * font;
  const beside: SheetLayout = {
    wall: within({ ...inner, right: inner.right - column - gap }),
    legend: { ...inner, left: inner.right - column, bottom: inner.bottom - titleHigh - gap },
    columns: 1,
    title: { ...inner, left: inner.right - column, top: inner.bottom - titleHigh },
  };
  const below: SheetLayout = {
    wall: within({ ...inner, bottom: inner.bottom - foot - gap }),
    legend: { ...inner, top: inner.bottom - foot, right: inner.right - column - gap },
    columns: 3,
    title: { ...inner, left: inner.right - column, top: inner.bottom - titleHigh },
  };
  const [scaleBeside, scaleBelow] = [chooseScale(wall, beside.wall), chooseScale(wall, below.wall)];
  return scaleBelow < scaleBeside ? { ...below, scale: scaleBelow } : { ...beside, scale: scaleBeside };
}

/** How much wider bold letters run. */
const boldWider = 1.15;

function drawTitle(area: Area, title: string, lines: readonly string[], pen: Pen): SvgNode {
  const { font } = pen;
  const [width, height] = [area.right - area.left, area.bottom - area.top];
  const [first = '', ...rest] = wrapText(title, (width - 1.6 * font) / boldWider, 1.3 * font);
  const second = rest.length > 1 ? `${rest[0]!} ...` : rest[0];
  const texts = [
    { text: first, size: 1.3 * font, bold: true },
    ...(second === undefined ? [] : [{ text: second, size: 1.3 * font, bold: true }]),
    ...lines
      .flatMap((line) => wrapText(line, width - 1.6 * font, font))
      .map((text) => ({ text, size: font, bold: false })),
  ];
  const step = Math.min(1.6 * font, (height - 0.8 * font) / texts.length);
  return element(
    'g',
    {},
    element('rect', {
      ...{ x: area.left, y: area.top, width, height },
      fill: 'none',
      stroke: look.pencil,
      'stroke-width': pen.line,
    }),
    ...texts.map(({ text, size, bold }, k) =>
      label(text, area.left + 0.8 * font, area.top + 0.4 * font + (k + 0.5) * step, {
        size: Math.min(size, 0.85 * step),
        bold,
        fill: bold ? look.pencil : look.graphite,
      }),
    ),
  );
}

/** The drawing on white paper: printers would dot the screen's tint. */
function whiten({ tag, attrs, children }: SvgNode): SvgNode {
  const white = Object.entries(attrs).map(([name, value]) => [
    name,
    value === look.sheet ? '#ffffff' : value,
  ]);
  return {
    tag,
    attrs: Object.fromEntries(white) as SvgNode['attrs'],
    children: children.map((child) => (typeof child === 'string' ? child : whiten(child))),
  };
}

/** The plan on a sheet of paper, in mm: the wall to a round scale, the legend, and the title block. */
export function drawPlanSheet(input: PlanInput, paper: Paper, note: string): SvgNode {
  const { survey, surface, plan } = input;
  const { width, height, font } = papers[paper];
  const pen = makePen(font);
  const { wall, legend, columns, title, scale } = layOutSheet(survey.wall, paper, pen);
  const spareAcross = wall.right - wall.left - survey.wall.width / scale;
  const spareDown = wall.bottom - wall.top - survey.wall.height / scale;
  // beside the legend the wall stands in the middle; above it, at the top, and the legend has the rest
  const isBeside = columns === 1;
  const frame = placeWall(
    survey.wall,
    wall.left + spareAcross / 2,
    wall.top + (isBeside ? spareDown / 2 : 0),
    1 / scale,
  );
  const legendTop = isBeside ? legend.top : frame.bottom + (mapMargins.bottom + 1) * font;
  const areas = traceBed(survey, surface, plan);
  const map = drawPlanMap(input, areas, frame, pen);
  const blocks = listLegend(input, areas, map.unwritten, pen);
  const [left, across] = [legend.left, legend.right - legend.left];
  // a legend that would run over is set in smaller letters
  const drawn = [1, 0.92, 0.85, 0.78, 0.7]
    .map((share) => flowBlocks(blocks, left, legendTop, across, columns, makePen(share * font)))
    .reduce((best, next) => (legendTop + best.height <= legend.bottom ? best : next));
  const size = `1 : ${formatNumber(scale)} on ${paper.toUpperCase()}, lengths in ${survey.units === 'inch' ? 'inches' : 'mm'}`;
  const sheet = element(
    'svg',
    { viewBox: `0 0 ${width} ${height}`, width: `${width}mm`, height: `${height}mm` },
    element('rect', { x: 0, y: 0, width, height, fill: look.sheet }),
    map.node,
    drawn.node,
    drawTitle(
      title,
      survey.title,
      ['Bed depth, boards and gauge screws, seen from the room', size, note].filter(Boolean),
      pen,
    ),
  );
  return whiten(sheet);
}
