import { tradeDefaults } from '../../../src/core/lining/defaults.ts';
import type { HackedSpot } from '../../../src/core/liningPlan.ts';
import type { LiningPlan, Surface } from '../../../src/core/results.ts';
import type { Survey } from '../../../src/core/survey.ts';

const isNear = (a: number, b: number, tolerance = 1e-6) => Math.abs(a - b) <= tolerance;
const say = (holds: boolean, fault: string) => (holds ? [] : [fault]);
const planeAt = ({ bedPlane: { p, q, r } }: LiningPlan, along: number, up: number) => p + q * along + r * up;

function settingOf({ lining }: Survey, name: keyof typeof tradeDefaults): number {
  const { value, limits } = tradeDefaults[name];
  return Math.min(Math.max(lining.settings?.[name] ?? value, limits[0]), limits[1]);
}

interface Node {
  readonly along: number;
  readonly up: number;
  readonly need: number;
  /** Bed of the wall as it is, and as hacked off for this plane. */
  readonly bed: number;
  readonly hackedBed: number;
}

/** Whatever must hold of the bed plane, the bed, the wishes, and hacking off. `isWall`: whether wall is at a spot. */
export function checkBed(
  survey: Survey,
  surface: Surface,
  plan: LiningPlan,
  isWall: (along: number, up: number) => boolean,
): string[] {
  const { nx, stepMm, out, sigma } = surface;
  const { bed: limits, plane: wishes = {}, hackOff = [] } = survey.lining;
  const [radius, depth] = [settingOf(survey, 'hackRadiusMm'), settingOf(survey, 'hackDepthMm')];
  const faults: string[] = [];
  const known: Node[] = [];
  out.forEach((wallOut, k) => {
    const along = (k % nx) * stepMm;
    const up = Math.floor(k / nx) * stepMm;
    const bed = isWall(along, up) ? planeAt(plan, along, up) - wallOut : NaN;
    if (!Object.is(Number.isNaN(bed), Number.isNaN(plan.bed[k]!)))
      faults.push(`bed at node ${k} is not where wall is`);
    if (Number.isNaN(bed)) return;
    const need = limits.min + (wishes.sigmas ?? 0) * (wishes.sigmas ? sigma[k]! : 0);
    const isPicked = hackOff.some((spot) => Math.hypot(spot.along - along, spot.up - up) <= radius);
    const hackedBed = isPicked ? Math.max(bed, need) : bed;
    known.push({ along, up, need, bed, hackedBed });
    if (!isNear(hackedBed, plan.bed[k]!))
      faults.push(`bed at node ${k}: expected ${hackedBed}, got ${plan.bed[k]}`);
    if (hackedBed < need - 1e-6) faults.push(`bed at node ${k} is ${bed}, under ${need}`);
    if (hackedBed - bed > depth + 1e-6) faults.push(`${hackedBed - bed} mm is hacked off at node ${k}`);
  });
  const mean = known.reduce((sum, { hackedBed }) => sum + hackedBed, 0) / known.length;
  const most = known.reduce((deepest, { hackedBed }) => Math.max(deepest, hackedBed), -Infinity);
  return [
    ...faults,
    ...say(isNear(mean, plan.meanBedMm), `mean bed: expected ${mean}, got ${plan.meanBedMm}`),
    ...say(isNear(most, plan.maxBedMm), 'max bed'),
    ...checkRest(survey, plan, known),
    ...checkHighPoints(surface, plan, known, isWall),
    ...checkWishes(survey, plan),
    ...checkHacked(survey, plan, known),
    ...checkOptions(survey, plan),
    ...checkVerdict(survey, plan),
  ];
}

/** Plumb and free to turn, nothing hacked off: optimal = it rests on the wall on both sides of the middle, or right there. */
function checkRest({ lining }: Survey, { hackOptions }: LiningPlan, known: readonly Node[]): string[] {
  const { faces = [], turn = 'free', lean = 0 } = lining.plane ?? {};
  const rests = known.filter(({ bed, need }) => bed < need + 1e-6).map(({ along }) => along);
  const middle = known.reduce((sum, { along }) => sum + along, 0) / known.length;
  if (faces.length > 0 || (lining.hackOff ?? []).length > 0) return [];
  if (turn !== 'free' || lean > 0) return say(rests.length > 0, 'the plane rests on nothing');
  return [
    ...say(
      Math.min(...rests) <= middle + 1e-6 && Math.max(...rests) >= middle - 1e-6,
      'plane is not optimal',
    ),
    ...say(hackOptions.length > 0, 'no option without hacking off'),
  ];
}

function checkHighPoints(
  { stepMm }: Surface,
  plan: LiningPlan,
  known: readonly Node[],
  isWall: (along: number, up: number) => boolean,
): string[] {
  const whole = known.filter(({ bed, hackedBed }) => hackedBed - bed <= 1e-6);
  const spare = (each: Node) => each.hackedBed - each.need;
  const least = (whole.length > 0 ? whole : known).reduce(
    (most, each) => Math.min(most, spare(each)),
    Infinity,
  );
  const isThere = (point: { along: number; up: number; bed: number }) =>
    known.some(
      (each) =>
        Math.abs(each.along - point.along) < stepMm &&
        Math.abs(each.up - point.up) < stepMm &&
        isNear(each.hackedBed, point.bed) &&
        isNear(spare(each), least, 3e-6),
    );
  const slack = 1e-6 + stepMm * (Math.abs(plan.bedPlane.q) + Math.abs(plan.bedPlane.r));
  return [
    ...say(plan.highPoints.length > 0, 'no high point'),
    ...say(plan.highPoints.includes(plan.highPoint), 'the high point is not among the high points'),
    ...plan.highPoints.flatMap((point) => [
      ...say(isThere(point), `high point with a bed of ${point.bed}`),
      ...say(
        whole.length === 0 || isNear(planeAt(plan, point.along, point.up) - point.out, point.bed, slack),
        'high point off the plane',
      ),
      ...say(isWall(point.along, point.up), 'high point off the wall'),
      ...say(point.out <= plan.highPoint.out, 'another high point stands further out'),
    ]),
  ];
}

/** By how much the plane misses each wish, reckoned from the survey. */
export function missWishes(survey: Survey, plan: Pick<LiningPlan, 'bedPlane'>): Map<string, number> {
  const { plane: wishes = {}, board } = survey.lining;
  const { p, q, r } = plan.bedPlane;
  const misses = new Map<string, number>();
  if (wishes.turn === 'laser') misses.set('turn', Math.abs(1000 * q));
  if (wishes.turn === 'square') misses.set('turn', Math.abs(1000 * q - (wishes.squareBy ?? 0)));
  misses.set('lean', Math.max(0, Math.abs(1000 * r) - (wishes.lean ?? 0)));
  for (const face of wishes.faces ?? []) {
    // distance from the laser's plane back to the boards' face, and how much further back that is than the face to meet
    const distance = -(p + q * face.along + r * face.up + board.thickness);
    const back = distance - face.distance;
    const tolerance = face.tolerance ?? settingOf(survey, 'faceToleranceMm');
    if (face.rule === 'meet') misses.set(face.id, Math.max(0, Math.abs(back) - tolerance));
    else misses.set(face.id, Math.max(0, face.rule === 'before' ? back : -back));
  }
  return misses;
}

function checkWishes(survey: Survey, plan: LiningPlan): string[] {
  const { wishes, sigmas } = plan.planeReport;
  const misses = missWishes(survey, plan);
  const told = plan.warnings.filter(({ code }) => code === 'wish_not_kept').map(({ subject }) => subject);
  const missed = wishes.filter(({ kept }) => !kept);
  const sum = missed.reduce((total, { missedBy }) => total + missedBy, 0);
  return [
    ...say(sigmas === (survey.lining.plane?.sigmas ?? 0), 'sigmas of the report'),
    ...say(
      wishes.map(({ wish }) => wish).join() === [...misses.keys(), 'least_bed'].join(),
      `wishes reported: ${wishes.map(({ wish }) => wish).join()}`,
    ),
    ...say(missed.map(({ wish }) => wish).join() === told.join(), 'a missed wish without a warning'),
    ...wishes.flatMap(({ wish, kept, missedBy, aloneBy }) => {
      const by = misses.get(wish) ?? 0;
      return [
        ...say(isNear(missedBy, by, 2e-6), `wish ${wish} is missed by ${by}, not ${missedBy}`),
        ...say(kept === by <= 1e-6, `wish ${wish} is ${kept ? 'not' : ''} kept`),
        ...say(missed.length > 0 || aloneBy === null, `wish ${wish} need not give way`),
        // What is missed in sum is the least: no wish alone does with less. (The least bed is another matter.)
        ...say(
          wish === 'least_bed' || aloneBy === null || aloneBy >= sum - 1e-5,
          `wish ${wish} alone would do with ${aloneBy}, the plan misses ${sum}`,
        ),
      ];
    }),
  ];
}

/** A spot lies on the wall, its deepest place in its rectangle, its area within both. */
function checkSpot({ wall }: Survey, radius: number, depth: number, spot: HackedSpot): string[] {
  const { area, deepest, areaM2, depthMm, id } = spot;
  const isIn = (at: number, from: number, size: number) => at >= from - 1e-6 && at <= from + size + 1e-6;
  return [
    ...say(
      isIn(area.along, 0, wall.width) && isIn(area.along + area.width, 0, wall.width),
      `spot ${id} off the wall`,
    ),
    ...say(
      isIn(area.up, 0, wall.height) && isIn(area.up + area.height, 0, wall.height),
      `spot ${id} off the wall`,
    ),
    ...say(
      isIn(deepest.along, area.along, area.width) && isIn(deepest.up, area.up, area.height),
      `spot ${id} is deepest outside itself`,
    ),
    ...say(
      areaM2 > 0 && areaM2 <= (area.width * area.height) / 1e6 + 1e-9,
      `spot ${id} has an area of ${areaM2}`,
    ),
    ...say(depthMm > 0 && depthMm <= depth + 1e-6, `spot ${id} is ${depthMm} deep`),
    ...say(
      Math.hypot(deepest.along - spot.along, deepest.up - spot.up) <= radius + 1e-6 ||
        deepest.along === wall.width ||
        deepest.up === wall.height,
      `spot ${id} is deepest beyond its reach`,
    ),
  ];
}

function checkHacked(survey: Survey, plan: LiningPlan, known: readonly Node[]): string[] {
  const { hackOff = [] } = survey.lining;
  const [radius, depth] = [settingOf(survey, 'hackRadiusMm'), settingOf(survey, 'hackDepthMm')];
  const deepest = known.reduce((most, { bed, hackedBed }) => Math.max(most, hackedBed - bed), 0);
  const listed = plan.hacked.reduce((most, { depthMm }) => Math.max(most, depthMm), 0);
  return [
    ...plan.hacked.flatMap((spot) => [
      ...checkSpot(survey, radius, depth, spot),
      ...say(
        hackOff.some(({ along, up }) => along === spot.along && up === spot.up),
        `spot ${spot.id} was not picked`,
      ),
    ]),
    ...say(isNear(deepest, listed, 2e-6), `${deepest} mm comes off, ${listed} is listed`),
    ...say(new Set(plan.hacked.map(({ id }) => id)).size === plan.hacked.length, 'two spots of one name'),
  ];
}

function checkOptions(survey: Survey, plan: LiningPlan): string[] {
  const { hackOptions, zones } = plan;
  const [radius, depth] = [settingOf(survey, 'hackRadiusMm'), settingOf(survey, 'hackDepthMm')];
  const linedM2 = zones.reduce((sum, { areaM2 }) => sum + areaM2, 0);
  const isFree = (survey.lining.plane?.faces ?? []).length === 0;
  return [
    ...say(hackOptions[0]?.spots.length === 0 && hackOptions[0].roomMm === 0, 'no option as it stands'),
    ...hackOptions.flatMap((option, k) => {
      const before = hackOptions[k - 1];
      const powder = option.adhesiveL * settingOf(survey, 'powderKgPerL');
      return [
        ...option.spots.flatMap((spot) => checkSpot(survey, radius, depth, spot)),
        ...say(
          isNear(option.adhesiveL, settingOf(survey, 'coverageShare') * option.meanBedMm * linedM2, 1e-9),
          `option ${k}: adhesive`,
        ),
        ...say(
          isNear(option.powderKg, powder * (1 + settingOf(survey, 'wasteShare'))),
          `option ${k}: powder`,
        ),
        ...say(isNear(option.setKg, powder * settingOf(survey, 'setPerPowder')), `option ${k}: set weight`),
        ...say(option.maxBedMm >= option.meanBedMm - 1e-9, `option ${k}: mean over most`),
        ...say(
          option.overPackedShare <= option.overMaxShare + 1e-12 && option.overMaxShare <= 1 + 1e-9,
          `option ${k}: shares`,
        ),
        ...say(
          option.spots.length <= settingOf(survey, 'hackSpotsMost'),
          `option ${k} has ${option.spots.length} spots`,
        ),
        ...(before
          ? [
              ...say(option.spots.length > before.spots.length, `option ${k} has no more spots`),
              ...say(!isFree || option.adhesiveL < before.adhesiveL, `option ${k} takes more adhesive`),
            ]
          : []),
      ];
    }),
  ];
}

function checkVerdict({ lining }: Survey, { verdict, meanBedMm, maxBedMm }: LiningPlan): string[] {
  const { reasons, comparison } = verdict;
  const codes = reasons.map(({ code }) => code);
  const bonded = comparison.find(({ way }) => way === 'bonded')!;
  return [
    ...say(
      codes.includes('within_limits') !== codes.includes('over_max'),
      `verdict for ${codes.join() || 'no reason'}`,
    ),
    ...say(verdict.way !== 'direct_bond' || codes.includes('within_limits'), 'direct bond over the limit'),
    ...say(verdict.way === 'direct_bond' || codes.includes('over_max'), 'no reason against direct bond'),
    ...say(!codes.includes('over_max') || maxBedMm > lining.bed.max, 'nothing is over the limit'),
    ...say(
      isNear(bonded.thicknessMm, meanBedMm + lining.board.thickness, 1e-9),
      'thickness lost under bonded boards',
    ),
    ...say(
      comparison.every(({ thicknessMm, massKgPerM2 }) => thicknessMm > 0 && massKgPerM2 > 0),
      'a way of lining that takes nothing',
    ),
  ];
}
