import type { LiningPlan, Surface, Zone } from '../core/results.ts';
import type { Survey } from '../core/survey.ts';
import type { Block, Row } from './blocks.ts';
import { formatLength, writeLength, type Units } from './length.ts';
import { look, type Pen } from './look.ts';
import { drawHighMark, drawScrewMark, drawServiceRing } from './planScrews.ts';
import { sampleChiselled, sampleStrip } from './planWork.ts';
import { unsureMm, zoneHatch, type BedAreas } from './planZones.ts';
import { element, formatNumber, type SvgNode } from './tree.ts';

/** What the legend speaks of. */
export interface PlanInput {
  readonly survey: Survey;
  readonly surface: Surface;
  readonly plan: LiningPlan;
}

const box = (x: number, y: number, width: number, pen: Pen, attrs: Record<string, string | number>) =>
  element('rect', {
    x: x - width / 2,
    y: y - 0.5 * pen.font,
    width,
    height: pen.font,
    stroke: look.edge,
    'stroke-width': pen.hair,
    ...attrs,
  });

/** Hatch lines across a sample, as on the wall. */
function sampleHatch(zone: keyof typeof zoneHatch, x: number, y: number, width: number, pen: Pen): SvgNode {
  const { spacing, angles, colour } = zoneHatch[zone];
  const high = pen.font;
  const step = spacing * pen.font * Math.SQRT2;
  const lines = angles.flatMap((angle) => {
    const rise = angle > 0 ? -1 : 1;
    return Array.from({ length: Math.floor((width - high) / step) + 1 }, (_, k) => {
      const from = x - width / 2 + k * step;
      return `M${formatNumber(from)},${formatNumber(y - rise * 0.5 * high)}l${formatNumber(high)},${formatNumber(rise * high)}`;
    });
  });
  return element('path', { d: lines.join(''), fill: 'none', stroke: colour, 'stroke-width': pen.hair });
}

function listBands({ banding: { levels, colours } }: BedAreas, units: Units, pen: Pen): Block {
  const depth = (level: number) => writeLength(level, units, 1);
  const range = (k: number) => {
    if (levels.length === 0) return 'all';
    if (k === 0) return `under ${depth(levels[0]!)}`;
    if (k === levels.length) return `over ${depth(levels[k - 1]!)}`;
    return `${depth(levels[k - 1]!)} to ${depth(levels[k]!)}`;
  };
  return [
    { text: `Bed depth, ${units === 'inch' ? 'inches' : 'mm'}`, bold: true },
    ...colours.map((fill, k) => ({
      text: range(k),
      sample: (x: number, y: number, width: number) => box(x, y, width, pen, { fill }),
    })),
  ];
}

function listZones({ survey, plan }: PlanInput, pen: Pen): Block {
  const { units } = survey;
  const { min, max, packedMax } = survey.lining.bed;
  const depth = (level: number) => writeLength(level, units, 1);
  const says: Record<Zone, string> = {
    thin: `under ${depth(min)}: too thin, hack back`,
    normal: `${depth(min)} to ${depth(max)}: adhesive alone`,
    packed: `${depth(max)} to ${depth(packedMax)}: packing strips first`,
    beyond: `over ${depth(packedMax)}: too deep for dabs`,
  };
  return [
    { text: 'What to do', bold: true },
    ...plan.zones.flatMap(({ zone, share, areaM2 }): Row[] => {
      if (areaM2 < 5e-4 && zone !== 'normal') return [];
      const percent = share < 0.01 ? 'below 1%' : `${Math.round(100 * share)}%`;
      return [
        {
          text: `${says[zone]} (${percent})`,
          needsUser: zone === 'thin' || zone === 'beyond',
          sample: (x, y, width) =>
            element(
              'g',
              {},
              box(x, y, width, pen, { fill: look.wall }),
              ...(zone === 'normal' ? [] : [sampleHatch(zone, x, y, width, pen)]),
            ),
        },
      ];
    }),
  ];
}

/** What is done to the masonry or asks for care, where there is any of it. */
function listWork({ plan }: PlanInput, pen: Pen): Row[] {
  const layers = [...new Set(plan.packing.strips.map((strip) => strip.layers))].sort((a, b) => a - b);
  return [
    ...(plan.hacked.length === 0
      ? []
      : [
          {
            text: 'spot to hack off first, and how much',
            needsUser: true,
            sample: (x: number, y: number, width: number) => sampleChiselled(x, y, width, pen),
          },
        ]),
    ...layers.map((deep) => ({
      text: `packing strip of board, ${deep === 1 ? 'one layer' : `${deep} layers`}`,
      sample: (x: number, y: number, width: number) => sampleStrip(deep, x, y, width, pen),
    })),
    ...(plan.screws.every(({ services }) => services === null)
      ? []
      : [
          {
            text: 'cables or pipes likely: trace before drilling',
            needsUser: true,
            sample: (x: number, y: number) =>
              element('g', {}, drawServiceRing(x, y, pen), drawScrewMark(x, y, look.pencil, pen)),
          },
        ]),
  ];
}

function listMarks(input: PlanInput, areas: BedAreas, pen: Pen): Block {
  const { survey } = input;
  const unit = survey.units === 'inch' ? 'inches' : 'mm';
  const rows: Row[] = [
    {
      text: `gauge screw: head so far out of the wall, ${unit}`,
      sample: (x, y) => drawScrewMark(x, y, look.pencil, pen),
    },
    { text: 'high point: the bed is least here', sample: (x, y) => drawHighMark(x, y + 0.4 * pen.font, pen) },
    {
      text: 'edge of a board',
      sample: (x, y, width) =>
        element('line', {
          x1: x - width / 2,
          y1: y,
          x2: x + width / 2,
          y2: y,
          stroke: look.pencil,
          'stroke-width': pen.heavy,
        }),
    },
  ];
  rows.push(...listWork(input, pen));
  if (areas.unsure.length > 0)
    rows.push({
      text: `less sure than ±${formatLength(unsureMm, survey.units, 1)}: measure again`,
      needsUser: true,
      sample: (x, y, width) =>
        element('line', {
          x1: x - width / 2,
          y1: y,
          x2: x + width / 2,
          y2: y,
          stroke: look.signal,
          'stroke-width': pen.line,
          'stroke-dasharray': `${formatNumber(pen.line)} ${formatNumber(2 * pen.line)}`,
        }),
    });
  return [{ text: 'Marks', bold: true }, ...rows];
}

/** Where the back of the boards is, in words that can be measured: from the laser's plane at both ends of the wall. */
function sayBedPlane({ survey, plan }: PlanInput): string {
  const { p, q, r } = plan.bedPlane;
  const { wall, units } = survey;
  const [left, right] = [-p, -(p + q * wall.width)];
  const lean = r * wall.height;
  const ends = `${formatLength(left, units, 0.1)} from laser plane at the left end, ${writeLength(right, units, 0.1)} at the right`;
  const leans = `, at the floor; ${formatLength(Math.abs(lean), units, 0.1)} further ${lean > 0 ? 'out' : 'back'} at the ceiling`;
  return `Back of boards: ${ends}${Math.abs(lean) >= 0.05 ? leans : ', plumb'}.`;
}

function saySigma({ survey, surface }: PlanInput): string {
  let [squares, count, worst] = [0, 0, 0];
  for (const sigma of surface.sigma) {
    if (Number.isNaN(sigma)) continue;
    squares += sigma * sigma;
    count++;
    worst = Math.max(worst, sigma);
  }
  if (count === 0) return '';
  const known = formatLength(Math.sqrt(squares / count), survey.units, 0.1);
  return `Wall known to ±${known} (one sigma), ±${formatLength(worst, survey.units, 0.1)} at worst.`;
}

function listFacts(input: PlanInput, unwritten: readonly string[]): Block {
  const { survey, plan } = input;
  const { units, lining } = survey;
  const { adhesive, boards, screws, highPoint: high } = plan;
  const thick = formatLength(lining.board.thickness, units, 0.5);
  const texts = [
    sayBedPlane(input),
    `High point ${formatLength(-high.out, units, 0.1)} from laser plane, ${writeLength(high.along, units, 1)} from the left, ${writeLength(high.up, units, 1)} up: bed ${formatLength(high.bed, units, 0.1)}.`,
    `Bed ${formatLength(plan.meanBedMm, units, 0.5)} on average, ${formatLength(plan.maxBedMm, units, 0.5)} at most.`,
    saySigma(input),
    `${boards.length} boards ${thick}, ${screws.length} gauge screws.`,
    `Adhesive ${formatNumber(Math.round(adhesive.volumeL))} L, ${adhesive.bags} bags of ${formatNumber(adhesive.bagKg)} kg.`,
  ];
  const rows: Row[] = texts.filter((text) => text !== '').map((text) => ({ text }));
  const which = unwritten.length > 6 ? `of ${unwritten.length} screws` : `of ${unwritten.join(', ')}`;
  if (unwritten.length > 0)
    rows.push({ text: `No room for the figure ${which}: see the list.`, needsUser: true });
  return [{ text: 'Bed plane', bold: true }, ...rows];
}

/** Everything said beside the wall, block by block. `unwritten`: screws whose figure found no room. */
export function listLegend(
  input: PlanInput,
  areas: BedAreas,
  unwritten: readonly string[],
  pen: Pen,
): Block[] {
  const { units } = input.survey;
  return [
    listBands(areas, units, pen),
    listZones(input, pen),
    listMarks(input, areas, pen),
    listFacts(input, unwritten),
  ];
}
