import type { WorkCaution, WorkStep } from '../../liningPlan.ts';
import type { MixKind, Pour } from '../mix/batches.ts';
import { findFloorGap } from './settingOut.ts';
import { idsOf, isWarned, makeStep, type WorkGround } from './step.ts';

/** The mix of a pour: one step for all its buckets. `isFirst` of its kind: what to beware of in every mix is said there. */
function mixPour(
  { batches }: Pour,
  isFirst: boolean,
  stage: 'packing' | 'fix',
  ground: WorkGround,
): WorkStep {
  const { restMin, potLifeMin } = ground.settings;
  const { number, trial, powderKg, waterL, minutes, boards } = batches[0]!;
  const often: WorkCaution[] =
    minutes > potLifeMin + 1e-9 ? ['over_pot_life', 'clean_bucket'] : ['clean_bucket'];
  const facts = {
    of: batches.map((batch) => String(batch.number)),
    cautions: isFirst ? [...often, 'no_retemper' as const, 'temperature' as const] : often,
    name: String(number),
  };
  const figures = { powderKg, waterL, restMin, potLifeMin };
  return trial
    ? makeStep(stage, 'mix_trial', { ...facts, figures: { ...figures, used: boards.length } })
    : makeStep(stage, 'mix', { ...facts, figures: { ...figures, buckets: batches.length, minutes } });
}

/** Each mix of a kind, followed by what it beds. */
function listPours(
  kind: MixKind,
  stage: 'packing' | 'fix',
  ground: WorkGround,
  bed: (items: readonly string[]) => WorkStep[],
): WorkStep[] {
  return ground.pours
    .filter((pour) => pour.kind === kind)
    .flatMap((pour, k) => [
      mixPour(pour, k === 0, stage, ground),
      ...(pour.items.length > 0 ? bed(pour.items) : []),
    ]);
}

/** Strips of board bonded first where the bed is deep, and the wait until they hold; none where nothing is packed. */
export function listPacking(ground: WorkGround): WorkStep[] {
  const { strips, cuts } = ground.plan.packing;
  if (strips.length === 0) return [];
  const { applyMinPerL, pieceMin, packingSetMin } = ground.settings;
  const bond = (items: readonly string[]) => {
    const volumeL = strips
      .filter(({ id }) => items.includes(id))
      .reduce((total, strip) => total + strip.volumeL, 0);
    const minutes = applyMinPerL * volumeL + pieceMin * items.length;
    const figures = { strips: items.length, volumeL, minutes };
    return [makeStep('packing', 'bond_packing', { of: items, figures, name: items[0]! })];
  };
  const lengthMm = cuts.reduce((total, cut) => total + cut.count * cut.lengthMm, 0);
  const pieces = cuts.reduce((total, { count }) => total + count, 0);
  return [
    makeStep('packing', 'cut_packing', {
      of: idsOf(strips),
      figures: { strips: strips.length, pieces, lengthMm },
      cautions: ['board_dust'],
    }),
    ...listPours('packing', 'packing', ground, bond),
    makeStep('packing', 'wait_packing', { figures: { minutes: packingSetMin } }),
  ];
}

/** Boards cut and tried without adhesive, those of reveals with them. */
export function listDryFit(ground: WorkGround): WorkStep[] {
  const { boards, reveals, cutting } = ground.plan;
  const heavy = boards.filter(({ persons }) => persons > 1);
  return [
    makeStep('dry_fit', 'cut_boards', {
      of: [...idsOf(boards), ...idsOf(reveals)],
      figures: { boards: boards.length + reveals.length, sheets: cutting.sheets.length, cuts: cutting.cuts },
      cautions: ['board_dust'],
    }),
    makeStep('dry_fit', 'dry_fit', {
      of: idsOf(boards),
      figures: {
        boards: boards.length,
        heavy: heavy.length,
        heaviestKg: Math.max(...boards.map(({ massKg }) => massKg)),
        floorGapMm: findFloorGap(ground),
      },
      cautions: heavy.length > 0 ? ['lifting'] : [],
    }),
  ];
}

/** Mixing and fixing, board by board with its mix, then the boards of reveals. */
export function listFixing(ground: WorkGround): WorkStep[] {
  const { plan, settings, survey } = ground;
  const { applyMinPerL, pressMin, pieceMin } = settings;
  const volumeOf = (id: string) => {
    const mixed = plan.adhesive.perBoard.find(({ board }) => board === id)?.volumeL ?? 0;
    const packed = plan.packing.strips.filter(({ board }) => board === id);
    return mixed - packed.reduce((total, strip) => total + strip.volumeL, 0);
  };
  const order = ground.pours.filter(({ kind }) => kind === 'boards').flatMap(({ items }) => items);
  const fix = (id: string) => {
    const { massKg, persons } = plan.boards.find((board) => board.id === id)!;
    const own = plan.dabs.filter(({ board }) => board === id);
    const dabs = own.filter(({ kind }) => kind === 'dab').length;
    const volumeL = volumeOf(id);
    const minutes = applyMinPerL * volumeL + pressMin;
    const cautions: WorkCaution[] = persons > 1 ? ['lifting'] : [];
    if (id === order[0]) cautions.push('air_seal');
    if (isWarned(plan, 'mix_outlasts_pot', id)) cautions.push('over_pot_life');
    return makeStep('fix', 'fix_board', {
      of: [id],
      figures: { dabs, strips: own.length - dabs, volumeL, massKg, persons, minutes },
      cautions,
      name: id,
    });
  };
  const line = (items: readonly string[]) => {
    const volumeL = items.reduce((total, id) => total + volumeOf(id), 0);
    const minutes = applyMinPerL * volumeL + pieceMin * items.length;
    const figures = { boards: items.length, volumeL, minutes };
    const cautions: WorkCaution[] = survey.wall.side === 'external' ? ['cold_wall'] : [];
    return [makeStep('fix', 'fix_reveals', { of: items, figures, cautions, name: items[0]! })];
  };
  return [
    ...listPours('boards', 'fix', ground, (items) => items.map(fix)),
    ...listPours('reveals', 'fix', ground, line),
  ];
}
