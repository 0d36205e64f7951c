import { focalPxFrom35, priorFocal } from '../camera/evidence.ts';
import type { KnownSheet } from '../camera/sheet.ts';
import type { Kept } from '../solve/solve.ts';

/** What the survey's photographs are like, so that one still to be taken is expected to be the same. */
export interface UsualPhoto {
  readonly phone: number;
  readonly focalPx: number;
  readonly focal35Mm: number | null;
  readonly longPx: number;
  readonly shortPx: number;
  /** How far off the wall the phone stood for level and for plumb lines (mm). */
  readonly offMm: { readonly level: number; readonly plumb: number };
  readonly standSigmaMm: number;
  readonly markSigmaPx: number;
  /** Sigma of a stretch of 20 mm across the line. */
  readonly stretchSigmaPx: number;
}

/** Where the survey has no photo yet (common practice, no source): a phone's picture, what a room lets one go back, sigmas. */
const USUAL = { longPx: 4000, shortPx: 3000, roomMm: 4000, standSigmaMm: 10, markSigmaPx: 1, stretchPx: 0.1 };
/** Room left beside the wall's ends in a picture that shows all of it. */
const FRAMED = 1.06;

const medianOf = (values: readonly number[], other: number) =>
  [...values].sort((a, b) => a - b)[(values.length - 1) >> 1] ?? other;

/** The photograph to expect of a survey: the middle of what its photographs have; null where no phone is known. */
export function describeUsualPhoto({ survey, coarse }: Kept): UsualPhoto | null {
  const { network } = coarse.task;
  if (network.phones.length === 0) return null;
  const last = network.stations.length - 1;
  const station = network.stations[last];
  const camera = coarse.settled.state.cameras[last];
  const longPx = camera ? Math.max(camera.widthPx, camera.heightPx) : USUAL.longPx;
  const focal35Mm = station?.photo.focal35Mm ?? null;
  const focalPx = camera?.focalPx ?? focalPxFrom35(priorFocal(focal35Mm).focal35Mm, longPx);
  const photos = network.stations.map(({ photo }) => photo);
  const offs = (axis: KnownSheet['axis']) =>
    photos
      .filter(({ lines, stand }) => stand.off !== null && lines.some((line) => line.sheet.axis === axis))
      .map(({ stand }) => stand.off!);
  const whole = (lengthMm: number) => Math.min(USUAL.roomMm, (FRAMED * lengthMm * focalPx) / longPx);
  const { width, height } = survey.wall;
  return {
    phone: station?.phone ?? 0,
    focalPx,
    focal35Mm,
    longPx,
    shortPx: camera ? Math.min(camera.widthPx, camera.heightPx) : USUAL.shortPx,
    offMm: {
      level: medianOf(offs('level'), whole(width)),
      plumb: medianOf(offs('plumb'), whole(height)),
    },
    standSigmaMm: medianOf(
      photos.map(({ stand }) => stand.sigma),
      USUAL.standSigmaMm,
    ),
    markSigmaPx: medianOf(
      photos.flatMap(({ marks }) => marks.map((mark) => mark.sigma)),
      USUAL.markSigmaPx,
    ),
    stretchSigmaPx: medianOf(
      network.lines.flatMap(({ stretches }) => stretches.map((stretch) => stretch.sigmaPx)),
      USUAL.stretchPx,
    ),
  };
}
