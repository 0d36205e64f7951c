import { settingsOf, usualScrewLengthsMm, type LiningSettings } from '../../../src/core/lining/defaults.ts';
import type { NodeGrid } from '../../../src/core/lining/nodeGrid.ts';
import type { Board, LiningPlan } from '../../../src/core/results.ts';
import type { Survey, WallRect } from '../../../src/core/survey.ts';

/** The parts of a plan that hold its boards, and its warnings. */
export type FixedBoards = Pick<LiningPlan, 'boards' | 'screws' | 'dabs' | 'packing' | 'warnings'>;

const say = (holds: boolean, fault: string) => (holds ? [] : [fault]);
const near = 1e-6;
const ends = ({ along, up, width, height }: WallRect) => [along, along + width, up, up + height] as const;

/** By how much two rectangles lie over each other, the lesser way (mm); not above 0 = not at all. */
function overlap(a: WallRect, b: WallRect): number {
  const [al, ar, ab, at] = ends(a);
  const [bl, br, bb, bt] = ends(b);
  return Math.min(Math.min(ar, br) - Math.max(al, bl), Math.min(at, bt) - Math.max(ab, bb));
}

/** How far a spot is outside a rectangle along the axis that parts them more (mm); negative = inside. */
const awayFrom = (rect: WallRect, along: number, up: number) =>
  -overlap(rect, { along, up, width: 0, height: 0 });

/** Whether every corner of a rectangle is within a board and `insetMm` from its edges (ends that slope: measured upright). */
function liesOn(board: Board, rect: WallRect, insetMm: number): boolean {
  const [left, right, bottom, top] = ends(rect);
  const [bl, br, bb, bt] = ends(board);
  if (left < bl + insetMm - near || right > br - insetMm + near) return false;
  if (!board.outline) return bottom >= bb + insetMm - near && top <= bt - insetMm + near;
  const { outline } = board;
  const edges = outline.map((from, k) => [from, outline[(k + 1) % outline.length]!] as const);
  return [left, right].every((along) => {
    const heights = edges
      .filter(([a, b]) => a.along !== b.along && (a.along - along) * (b.along - along) <= 0)
      .map(([a, b]) => a.up + ((b.up - a.up) * (along - a.along)) / (b.along - a.along));
    return bottom >= Math.min(...heights) + insetMm - 1e-3 && top <= Math.max(...heights) - insetMm + 1e-3;
  });
}

/** Bed at a spot, bilinear between the nodes. */
function bedAt({ stepMm, nx, ny, values }: NodeGrid, along: number, up: number): number {
  const x = Math.min(Math.max(along / stepMm, 0), nx - 1);
  const y = Math.min(Math.max(up / stepMm, 0), ny - 1);
  const [i, j] = [Math.floor(x), Math.floor(y)];
  const at = (di: number, dj: number) => values[Math.min(j + dj, ny - 1) * nx + Math.min(i + di, nx - 1)]!;
  const [a, b] = [x - i, y - j];
  return (1 - b) * ((1 - a) * at(0, 0) + a * at(1, 0)) + b * ((1 - a) * at(0, 1) + a * at(1, 1));
}

/** The parts that the grid's lines cut a rectangle into: a bilinear bed's mean on each is that at its middle. */
function cutByGrid(rect: WallRect, { stepMm }: NodeGrid): WallRect[] {
  const [left, right, bottom, top] = ends(rect);
  const cuts = (from: number, to: number) => {
    const lines = [from];
    for (let k = Math.floor(from / stepMm) + 1; k * stepMm < to; k++) lines.push(k * stepMm);
    return [...lines, to];
  };
  const [xs, ys] = [cuts(left, right), cuts(bottom, top)];
  return xs
    .slice(1)
    .flatMap((x, i) =>
      ys.slice(1).map((y, j) => ({ along: xs[i]!, up: ys[j]!, width: x - xs[i]!, height: y - ys[j]! })),
    );
}

/** Bed under a rectangle: as a volume (mm3), and its least and most (mm). */
function bedUnder(rect: WallRect, bed: NodeGrid) {
  const parts = cutByGrid(rect, bed);
  const corners = parts.flatMap(({ along, up, width, height }) =>
    [along, along + width].flatMap((x) => [up, up + height].map((y) => bedAt(bed, x, y))),
  );
  const mm3 = parts.reduce(
    (sum, { along, up, width, height }) =>
      sum + width * height * bedAt(bed, along + width / 2, up + height / 2),
    0,
  );
  return { mm3, least: Math.min(...corners), most: Math.max(...corners) };
}

/** What must hold of the screws, dabs and packing of every plan; `bed`: at the nodes, without NaN. Reckons apart from src/. */
export function checkFixing(survey: Survey, plan: FixedBoards, bed: NodeGrid): string[] {
  return [
    ...checkScrewPlaces(survey, plan),
    ...checkDabs(survey, plan, bed),
    ...checkPacking(survey, plan, bed),
  ];
}

function checkScrewPlaces({ wall, lining }: Survey, { screws, dabs, packing, warnings }: FixedBoards) {
  const settings = settingsOf(lining);
  const faults: string[] = [];
  const lengths = [...(lining.screwLengths ?? usualScrewLengthsMm)].sort((a, b) => a - b);
  for (const { id, along, up, projection, screwMm, services } of screws) {
    for (const each of [...dabs, ...packing.strips])
      if (awayFrom(each, along, up) < settings.screwDabClearMm - 1e-3)
        faults.push(`screw ${id} is ${awayFrom(each, along, up)} mm from adhesive or packing`);
    const fit = lengths.find((each) => each >= projection + settings.plugLengthMm - 1e-9) ?? null;
    if (fit !== screwMm) faults.push(`screw ${id}: expected ${fit} mm, got ${screwMm}`);
    const isAtBox = wall.boxes.some(
      (box) =>
        (along > box.along - settings.serviceSpareMm &&
          along < box.along + box.width + settings.serviceSpareMm) ||
        (up > box.up - settings.serviceSpareMm && up < box.up + box.height + settings.serviceSpareMm),
    );
    const zone = settings.serviceZoneMm;
    const isAtEdge = along < zone || along > wall.width - zone || (!wall.ceiling && up > wall.height - zone);
    const isMarked = services !== null && (services !== 'top' || !wall.ceiling);
    if (isMarked !== (isAtBox || isAtEdge)) faults.push(`screw ${id} is marked ${services}`);
  }
  const count = (code: string) => warnings.find((each) => each.code === code)?.count ?? 0;
  const atServices = screws.filter(({ services }) => services !== null).length;
  return [
    ...faults,
    ...say(count('screw_at_services') === atServices, `${atServices} screws at services not warned of`),
    ...say(
      count('screw_too_short') === screws.filter(({ screwMm }) => screwMm === null).length,
      'screws that are too short not warned of',
    ),
  ];
}

function checkDabs({ lining }: Survey, plan: FixedBoards, bed: NodeGrid) {
  const { boards, dabs, packing, warnings } = plan;
  const settings = settingsOf(lining);
  const { max, packedMax } = lining.bed;
  const faults: string[] = [];
  for (const board of boards) {
    const own = dabs.filter((dab) => dab.board === board.id);
    own.forEach((dab, k) => {
      const name = `${dab.kind} ${k} of board ${board.id}`;
      if (!liesOn(board, dab, settings.dabEdgeMm)) faults.push(`${name} is not well behind its board`);
      if (board.cutouts.some((cutout) => overlap(cutout, dab) > near)) faults.push(`${name} is in a cut-out`);
      if (own.some((other, l) => l < k && overlap(other, dab) > near))
        faults.push(`${name} lies over another`);
      const under = packing.strips.filter((strip) => overlap(strip, dab) > near);
      const [areaMm2, { mm3, most }] = [dab.width * dab.height, bedUnder(dab, bed)];
      if (dab.packing === null) {
        if (under.length > 0) faults.push(`${name} reaches over packing`);
        const limit = Math.max(max, packedMax);
        if (most <= limit && Math.abs(dab.volumeL - mm3 / 1e6) > 1e-9 * mm3)
          faults.push(`${name}: expected ${mm3 / 1e6} L, got ${dab.volumeL}`);
        if (dab.depthMm > limit + near) faults.push(`${name} is ${dab.depthMm} mm deep`);
      } else {
        const strip = under.find(({ id }) => id === dab.packing);
        if (under.length !== 1 || !strip) faults.push(`${name} is not on packing strip ${dab.packing}`);
        else if (
          Math.abs(dab.depthMm - strip.overMm) > near ||
          overlap(strip, dab) < Math.min(dab.width, dab.height) - near
        )
          faults.push(`${name} is not wholly on packing strip ${strip.id}`);
      }
      if (Math.abs(dab.volumeL * 1e6 - dab.depthMm * areaMm2) > near * areaMm2)
        faults.push(`${name}: volume is not footprint x depth`);
    });
    const deep = own.filter(
      (dab) =>
        dab.packing === null &&
        dab.depthMm > max + settings.screwToleranceMm &&
        dab.depthMm <= packedMax - near,
    ).length;
    const warned = (code: string) => warnings.find((each) => each.code === code && each.subject === board.id);
    if ((warned('packing_shallow')?.count ?? 0) !== deep) faults.push(`board ${board.id}: ${deep} deep dabs`);
    const contact = own.reduce((sum, { width, height }) => sum + width * height, 0);
    const cut = board.cutouts.reduce((sum, { width, height }) => sum + width * height, 0);
    // Cut-outs that lie over each other make the board larger than this.
    const least = settings.coverageShare * (board.outline ? 0 : board.width * board.height - cut);
    if (contact < least - near && !warned('contact_short'))
      faults.push(`board ${board.id} is held on ${contact} mm2 of ${least}`);
    if (board.cutouts.length === 0 && board.height > 600 && board.width > 200 && !board.outline)
      faults.push(...checkRows(board, plan, settings));
  }
  return faults;
}

/** Whether adhesive comes at least every row up each column of a whole board, wherever there is room for a dab. */
function checkRows(board: Board, { dabs, screws, packing }: FixedBoards, settings: LiningSettings) {
  const { dabRowMm, dabEdgeMm, stripWidthMm, dabWidthLeastMm, screwDabClearMm } = settings;
  const own = dabs.filter((dab) => dab.board === board.id);
  const rowMm = dabEdgeMm + Math.max(stripWidthMm, dabWidthLeastMm) + near;
  const faults: string[] = [];
  for (const { along, up, width, height, kind } of own) {
    // Those of the level rows at the ends are longer than the columns are wide.
    const isRow = up - board.up + height < rowMm || board.up + board.height - up < rowMm;
    if (kind !== 'dab' || isRow) continue;
    const band = { along, up: board.up, width, height: board.height };
    const isIn = (each: WallRect) => overlap(each, { ...band, along: along + width / 2, width: 1e-3 }) > 0;
    const met = own.filter(isIn).sort((a, b) => a.up - b.up);
    const squares = screws.map((screw) => ({
      along: screw.along - screwDabClearMm,
      up: screw.up - screwDabClearMm,
      width: 2 * screwDabClearMm,
      height: 2 * screwDabClearMm,
    }));
    const strips = own.filter((dab) => dab.kind !== 'dab');
    const stops = [...squares, ...strips]
      .filter((each) => overlap(each, band) > near)
      .map((each) => [each.up, each.up + each.height]);
    const ends = packing.strips.filter(isIn).flatMap((each) => [each.up, each.up + each.height]);
    met.slice(1).forEach((next, k) => {
      // Of a dab its middle counts, of a strip where it begins and ends.
      const last = met[k]!;
      const half = (dab: WallRect & { kind: string }) => (dab.kind === 'dab' ? dab.height / 2 : 0);
      const apart = next.up + half(next) - (last.up + last.height - half(last));
      if (apart <= dabRowMm + near) return;
      const [from, to] = [last.up + last.height + screwDabClearMm, next.up - screwDabClearMm];
      const walls = [[-Infinity, from], [to, Infinity], ...ends.map((end) => [end, end]), ...stops].sort(
        (a, b) => a[0]! - b[0]!,
      );
      const room = Math.max(
        ...walls
          .slice(1)
          .map(([start], m) => start! - Math.max(...walls.slice(0, m + 1).map((wall) => wall[1]!))),
      );
      if (room > dabWidthLeastMm + near)
        faults.push(`board ${board.id}: at ${along} nothing from ${from} to ${to}`);
    });
  }
  return faults;
}

function checkPacking({ lining }: Survey, { boards, dabs, packing }: FixedBoards, bed: NodeGrid) {
  const settings = settingsOf(lining);
  const { min, max, packedMax } = lining.bed;
  const stripMm = lining.board.thickness;
  const { strips, cuts } = packing;
  const faults: string[] = [];
  strips.forEach((strip, k) => {
    const { id, layers, overMm, underMm, bedMm } = strip;
    if (id !== `P${k + 1}`) faults.push(`packing strip ${k + 1} is called ${id}`);
    const board = boards.find((each) => each.id === strip.board);
    if (!board || !liesOn(board, strip, settings.dabEdgeMm))
      faults.push(`strip ${id} is not behind its board`);
    if (board?.cutouts.some((cutout) => overlap(cutout, strip) > near))
      faults.push(`strip ${id} is in a cut-out`);
    if (strips.some((other, l) => l < k && overlap(other, strip) > near))
      faults.push(`strip ${id} is over another`);
    const { mm3, least, most } = bedUnder(strip, bed);
    const filled = layers * stripMm + overMm;
    if (!(layers >= 1) || overMm < min - near || overMm > max + near)
      faults.push(`strip ${id}: ${layers} layers with ${overMm} over them`);
    if (least - filled < min - 1e-5 || most - filled > max + 1e-5)
      faults.push(`strip ${id}: ${least - filled} to ${most - filled} under it`);
    if (most > packedMax + 1e-5) faults.push(`strip ${id} is beyond packing`);
    if (
      Math.abs(bedMm - mm3 / (strip.width * strip.height)) > near ||
      Math.abs(bedMm - filled - underMm) > near
    )
      faults.push(`strip ${id}: bed ${bedMm}, under ${underMm}`);
    const own = dabs.filter((dab) => dab.packing === id);
    const under = own.reduce((sum, dab) => sum + bedUnder(dab, bed).mm3 - filled * dab.width * dab.height, 0);
    if (own.length === 0) faults.push(`strip ${id} carries nothing`);
    if (Math.abs(strip.volumeL - under / 1e6) > 1e-9 * Math.abs(under) + 1e-12)
      faults.push(`strip ${id}: expected ${under / 1e6} L under it, got ${strip.volumeL}`);
    const steps = [strip.width, strip.height].map((mm) => mm / settings.packingStepMm);
    if (!steps.some((count) => Math.abs(count - Math.round(count)) < 1e-6))
      faults.push(`strip ${id} is ${strip.width} x ${strip.height}`);
  });
  const pieces = strips.reduce((sum, { layers }) => sum + layers, 0);
  const runMm = strips.reduce((sum, { layers, width, height }) => sum + layers * Math.max(width, height), 0);
  return [
    ...faults,
    ...say(cuts.reduce((sum, { count }) => sum + count, 0) === pieces, 'packing pieces do not sum'),
    ...say(
      Math.abs(cuts.reduce((sum, { count, lengthMm }) => sum + count * lengthMm, 0) - runMm) <
        0.1 * pieces + near,
      'packing lengths do not sum',
    ),
  ];
}
