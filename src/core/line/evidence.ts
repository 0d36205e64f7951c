import type { LineColumn, MeasuredStretch } from './linePoints.ts';
import { medianOf } from './running.ts';

/** What speaks for and against a laser line. Shares and ratios unless the name says otherwise. */
export interface LineEvidence {
  /** Columns with the line, as a share of those that could show it. */
  readonly coverage: number;
  /**
   * Median colour gain of the line (levels), and in units of the wall's own differences of colour beside it.
   */
  readonly excess: number;
  readonly colourContrast: number;
  /** How much the own channel rises for every level of colour gain: light adds, paint takes away. */
  readonly added: number;
  /**
   * How much more the line gains in yellow than in blue, per level of its own channel: lamps, leaves, timber
   * and brass do.
   */
  readonly yellow: number;
  /** Own channel on the line over that of the brightest part of the picture. */
  readonly brightness: number;
  /** Full width at half maximum, per thousand of the picture's long side. */
  readonly width: number;
  /** Median strength along the path, and places elsewhere that look like it, per place on the path. */
  readonly strength: number;
  readonly rivals: number;
  /** Scatter from column to column in line widths. */
  readonly scatter: number;
  /**
   * How far the line strays from straight over a fiftieth of the picture, per thousand of the long side
   * (median).
   */
  readonly wander: number;
  /** Peak over the spread of the wall beside it, in the light it was placed by (median). */
  readonly contrast: number;
  /** Share of suspect columns, and number of pieces. */
  readonly suspect: number;
  readonly pieces: number;
}

/** What the evidence is compared with. */
export interface EvidenceContext {
  /** Columns that could show the line, and the picture's long side (px). */
  readonly openPx: number;
  readonly longSidePx: number;
  /** Value of the own channel that only a twentieth of the picture is above (levels). */
  readonly brightLevel: number;
  readonly strength: number;
  readonly rivals: number;
  readonly pieces: number;
}

/** Weighs a line's measured stretches and the columns that were kept of them. */
export function weighEvidence(
  stretches: readonly MeasuredStretch[],
  columns: readonly LineColumn[],
  context: EvidenceContext,
): LineEvidence {
  const light = weighLight(stretches, context);
  const { contrast, widthPx } = light;
  return {
    ...light.evidence,
    coverage: columns.length / context.openPx,
    scatter: medianOf(columns.map(({ sigma }) => sigma)) / widthPx,
    wander: measureWander(columns, context.longSidePx),
    contrast,
    suspect: columns.filter(({ reason }) => reason !== null).length / Math.max(1, columns.length),
    pieces: context.pieces,
  };
}

/**
 * What a glance at a line's stretches (columns `step` px apart) says for and against it, the best assumed of all that only
 * a measurement of every column can tell.
 */
export function weighGlance(
  stretches: readonly MeasuredStretch[],
  step: number,
  context: EvidenceContext,
): LineEvidence {
  const { evidence, contrast } = weighLight(stretches, context);
  const seen = stretches.reduce((sum, { presence }) => sum + presence.there.reduce((a, b) => a + b, 0), 0);
  const coverage = (seen * step) / context.openPx;
  return { ...evidence, coverage, contrast, scatter: 0, wander: 0, suspect: 0, pieces: 1 };
}

/** The part of the evidence that lies in the light of the line. */
function weighLight(stretches: readonly MeasuredStretch[], context: EvidenceContext) {
  const median = (value: (stretch: MeasuredStretch, x: number) => number): number =>
    medianOf(
      stretches.flatMap((stretch) =>
        Array.from(stretch.presence.there, (there, x) => (there ? value(stretch, x) : NaN)),
      ),
    );
  const excess = median(({ presence }, x) => presence.excess[x]!);
  const gain = median(({ presence }, x) => presence.gains[0][x]!);
  const widthPx = median(({ placement }, x) => placement.profiles[x]!.widthRows);
  const sides = medianOf(stretches.map(({ presence }) => presence.excessNoise));
  return {
    widthPx,
    contrast: median(
      ({ placement }, x) => placement.profiles[x]!.amplitude / (placement.profiles[x]!.noise + 0.3),
    ),
    evidence: {
      excess,
      colourContrast: excess / (sides + 1),
      added: gain / excess,
      yellow: median(({ presence: { gains } }, x) => gains[1][x]! - gains[2][x]!) / Math.max(1, gain),
      brightness: median(({ presence }, x) => presence.own[x]!) / context.brightLevel,
      width: (1000 * widthPx) / context.longSidePx,
      strength: context.strength,
      rivals: context.rivals,
    },
  };
}

function measureWander(columns: readonly LineColumn[], longSidePx: number): number {
  const reach = Math.max(3, Math.round(longSidePx / 50));
  const across = new Map(columns.map((column) => [column.along, column.across]));
  const strays = columns.map((column) => {
    const ends = (across.get(column.along - reach) ?? NaN) + (across.get(column.along + reach) ?? NaN);
    return Math.abs(column.across - ends / 2);
  });
  const median = medianOf(strays);
  return (1000 * (Number.isNaN(median) ? reach : median)) / longSidePx;
}
