import { settingsOf } from '../../../src/core/lining/defaults.ts';
import type { WorkCaution, WorkCode, WorkStage } from '../../../src/core/liningPlan.ts';
import type { LiningPlan } from '../../../src/core/results.ts';
import type { Survey } from '../../../src/core/survey.ts';

const say = (holds: boolean, fault: string) => (holds ? [] : [fault]);
const stages: readonly WorkStage[] = [
  'prepare',
  'prime',
  'set_out',
  'screws',
  'packing',
  'dry_fit',
  'fix',
  'wait',
  'seal',
  'secondary',
  'joints',
  'clean',
];

/** What must hold of the order of work: everything of the plan once, in its order, with the cautions where they matter. */
export function checkWork({ wall, lining }: Survey, plan: LiningPlan): string[] {
  const { work, boards, batches, screws, packing, reveals, hacked } = plan;
  const settings = settingsOf(lining);
  const ofCode = (...codes: WorkCode[]) => work.filter(({ code }) => codes.includes(code));
  const idsOf = (...codes: WorkCode[]) => ofCode(...codes).flatMap((step) => step.of);
  const names = (items: readonly { readonly id: string }[]) => items.map(({ id }) => id);
  const isSame = (a: readonly string[], b: readonly string[]) =>
    [...a].sort().join() === [...b].sort().join();
  const isWarnedAt = (code: WorkCode, caution: WorkCaution) =>
    ofCode(code).every(({ cautions }) => cautions.includes(caution));
  const place = (code: WorkCode) => work.findIndex((step) => step.code === code);
  const last = (code: WorkCode) => work.findLastIndex((step) => step.code === code);
  const faults: string[] = [];
  work.forEach((step, k) => {
    const before = work[k - 1];
    if (before && stages.indexOf(before.stage) > stages.indexOf(step.stage))
      faults.push(`step ${step.id} comes after ${before.id}`);
    for (const [name, figure] of Object.entries<number>({ ...step.figures }))
      if (!Number.isFinite(figure) || (figure < 0 && !/^(leftMm|rightMm|leanMmPerM)$/.test(name)))
        faults.push(`step ${step.id}: ${name} is ${figure}`);
    if (new Set(step.cautions).size < step.cautions.length) faults.push(`step ${step.id} warns twice`);
    // every mix is there before what it beds, and a board is fixed only after the last of its mixes
    if (step.code === 'fix_board' || step.code === 'fix_reveals')
      for (const id of step.of)
        for (const { number } of batches.filter((batch) => batch.boards.includes(id)))
          if (!work.slice(0, k).some(({ code, of }) => /^mix/.test(code) && of.includes(String(number))))
            faults.push(`${id} is fixed before batch ${number} is mixed`);
    if (step.code === 'fix_board') {
      const isHeavy = boards.find(({ id }) => id === step.of[0])?.persons === 2;
      if (isHeavy !== step.cautions.includes('lifting')) faults.push(`lifting at ${step.id}`);
    }
  });
  const start = lining.start === 'right' ? -1 : 1;
  const order = idsOf('fix_board').flatMap((id) => boards.filter((board) => board.id === id));
  order.slice(1).forEach((board, k) => {
    const [a, b] = [order[k]!, board].map(({ along, width }) => (start > 0 ? along : -(along + width)));
    if (a! > b! + 1e-6) faults.push(`board ${board.id} is fixed too late`);
  });
  const perBoard = settings.secondaryPerBoard;
  return [
    ...faults,
    ...say(new Set(work.map(({ id }) => id)).size === work.length, 'two steps of one name'),
    ...say(isSame(idsOf('fix_board'), names(boards)), 'not every board is fixed once'),
    ...say(isSame(idsOf('fix_reveals'), names(reveals)), 'not every reveal is lined once'),
    ...say(isSame(idsOf('set_screws'), names(screws)), 'not every screw is set once'),
    ...say(isSame(idsOf('bond_packing'), names(packing.strips)), 'not every strip is bonded once'),
    ...say(isSame(idsOf('hack_off'), names(hacked)), 'not every spot is hacked off once'),
    ...say(
      isSame(
        idsOf('mix', 'mix_trial'),
        batches.map(({ number }) => String(number)),
      ),
      'not every batch is mixed once',
    ),
    ...say(place('fix_board') > last('dry_fit'), 'fixing before dry fit'),
    ...say(
      work.every(({ code, stage }, k) => !/^mix/.test(code) || stage === 'packing' || k > last('dry_fit')),
      'mixing for boards before dry fit',
    ),
    ...say(
      packing.strips.length === 0 ||
        (last('bond_packing') < place('wait_packing') && place('wait_packing') < place('dry_fit')),
      'packing is not left to set',
    ),
    ...say(ofCode('secondary_fix').length === (perBoard > 0 ? 1 : 0), 'secondary fixing'),
    ...ofCode('secondary_fix').flatMap((step) =>
      say('fixings' in step.figures && step.figures.fixings === perBoard * boards.length, 'count of plugs'),
    ),
    ...say(isWarnedAt('set_laser', 'laser_light'), 'no caution of the laser'),
    ...say(isWarnedAt('set_screws', 'services') && isWarnedAt('set_screws', 'stone_dust'), 'drilling'),
    ...say(isWarnedAt('hack_off', 'stone_dust') && isWarnedAt('hack_off', 'old_coatings'), 'hacking off'),
    ...say(isWarnedAt('clear_wall', 'old_coatings'), 'old coatings'),
    ...say(isWarnedAt('check_wall', 'damp_wall') && isWarnedAt('check_wall', 'local_rules'), 'check_wall'),
    ...say(wall.side !== 'external' || isWarnedAt('check_wall', 'cold_wall'), 'external wall'),
    ...say(wall.side !== 'party' || isWarnedAt('check_wall', 'party_sound'), 'party wall'),
    ...say(isWarnedAt('seal_gaps', 'fire_rating'), 'fire sealing'),
    ...say(isWarnedAt('mix', 'clean_bucket') && isWarnedAt('mix_trial', 'clean_bucket'), 'clean bucket'),
  ];
}
