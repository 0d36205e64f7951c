import { settingsOf } from '../../../src/core/lining/defaults.ts';
import type { LiningPlan } from '../../../src/core/results.ts';
import type { Survey } from '../../../src/core/survey.ts';

const isNear = (a: number, b: number, tolerance = 1e-6) => Math.abs(a - b) <= tolerance;
const say = (holds: boolean, fault: string) => (holds ? [] : [fault]);
const sum = <T>(items: readonly T[], of: (item: T) => number) =>
  items.reduce((total, item) => total + of(item), 0);

/** What must hold of the adhesive: it is the dabs, the packing and the reveals, and its sums agree. */
export function checkAdhesive({ lining }: Survey, plan: LiningPlan): string[] {
  const { adhesive, boards, reveals, dabs, packing, maxBedMm } = plan;
  const { perBoard } = adhesive;
  const settings = settingsOf(lining);
  const faults: string[] = [];
  boards.forEach((board, k) => {
    const mix = perBoard[k];
    if (mix?.board !== board.id) return void faults.push(`mix ${k} is for ${mix?.board}, not ${board.id}`);
    const own = dabs.filter((dab) => dab.board === board.id);
    const onMasonry = sum(own, (dab) => dab.volumeL);
    const under = sum(
      packing.strips.filter((strip) => strip.board === board.id),
      (strip) => strip.volumeL,
    );
    if (!isNear(mix.volumeL, onMasonry + under))
      faults.push(`board ${board.id} is laid with ${onMasonry + under} L, not ${mix.volumeL}`);
    if (mix.meanBedMm < lining.bed.min - 1e-6 || mix.meanBedMm > maxBedMm + 1e-6)
      faults.push(`board ${board.id} has a mean bed of ${mix.meanBedMm}`);
    if (!board.outline) {
      const cut = sum(board.cutouts, ({ width, height }) => width * height);
      const areaM2 = (board.width * board.height - cut) / 1e6;
      // cut-outs may overlap, so that what is left is more
      if (mix.areaM2 < areaM2 - 1e-6 || mix.areaM2 > (board.width * board.height) / 1e6 + 1e-6)
        faults.push(`board ${board.id} has ${areaM2} m2, not ${mix.areaM2}`);
    }
    if (mix.dabs.count !== own.filter(({ kind }) => kind === 'dab').length)
      faults.push(`board ${board.id} has not ${mix.dabs.count} dabs`);
    if (mix.dabs.count * mix.dabs.volumeL > mix.volumeL + 1e-9)
      faults.push(`dabs of ${board.id} outweigh its mix`);
  });
  reveals.forEach((reveal, k) => {
    const mix = perBoard[boards.length + k];
    const areaM2 = (reveal.width * reveal.length) / 1e6;
    const volumeL = areaM2 * settings.revealShare * settings.revealBedMm;
    if (mix?.board !== reveal.id || !isNear(mix.volumeL, volumeL))
      faults.push(`reveal ${reveal.id} is not mixed for`);
  });
  for (const mix of perBoard)
    if (mix.powderKg / mix.mixes > settings.mixMostKg + 1e-6)
      faults.push(`a mix for ${mix.board} is too large`);
  const contact = sum(dabs, ({ width, height }) => width * height) / 1e6;
  const wholeM2 = sum(perBoard.slice(0, boards.length), (mix) => mix.areaM2);
  const powder = adhesive.volumeL * settings.powderKgPerL * (1 + settings.wasteShare);
  const totals = [
    ['volumes', sum(perBoard, (mix) => mix.volumeL), adhesive.volumeL],
    ['powder', sum(perBoard, (mix) => mix.powderKg), adhesive.powderKg],
    ['powder by volume', powder, adhesive.powderKg],
    ['water', adhesive.powderKg * settings.waterLPerKg, adhesive.waterL],
    ['mixes', sum(perBoard, (mix) => mix.mixes), adhesive.mixes],
    ['contact', contact / wholeM2, adhesive.coverage],
  ] as const;
  return [
    ...faults,
    ...say(perBoard.length === boards.length + reveals.length, 'not one mix per board'),
    ...totals.flatMap(([what, expected, got]) =>
      say(isNear(expected, got), `${what}: expected ${expected}, got ${got}`),
    ),
  ];
}

/** What must hold of the batches: each used in time and fit for the bucket, together all the adhesive, every board in one. */
export function checkBatches({ lining }: Survey, plan: LiningPlan): string[] {
  const { adhesive, batches, boards, reveals, packing, warnings } = plan;
  const settings = settingsOf(lining);
  const faults: string[] = [];
  const isNamed = (id: string) =>
    warnings.some(
      ({ code, subject }) => code === 'mix_outlasts_pot' && subject === (id === 'packing' ? 'wall' : id),
    );
  batches.forEach((batch, k) => {
    const { number, boards: ids, powderKg, waterL, volumeL, minutes } = batch;
    if (number !== k + 1) faults.push(`batch ${number} stands at place ${k + 1}`);
    if (powderKg > settings.mixMostKg + 1e-6) faults.push(`batch ${number} is too large: ${powderKg} kg`);
    if (!isNear(waterL, powderKg * settings.waterLPerKg)) faults.push(`water of batch ${number}`);
    if (minutes > settings.potLifeMin + 1e-6 && !(new Set(ids).size === 1 && isNamed(ids[0]!)))
      faults.push(`batch ${number} outlasts its pot life: ${minutes} min`);
    if (minutes < settings.restMin + settings.stirMin + settings.applyMinPerL * volumeL - 1e-6)
      faults.push(`batch ${number} cannot be used in ${minutes} min`);
    if (ids.length > 0 && !isNear(powderKg, volumeL * settings.powderKgPerL * (1 + settings.wasteShare)))
      faults.push(`powder of batch ${number}`);
    if (ids.length === 0 && !batch.trial) faults.push(`batch ${number} is for nothing`);
  });
  const used = batches.filter((batch) => batch.boards.length > 0);
  const things = [...(packing.strips.length > 0 ? ['packing'] : []), ...boards, ...reveals].map((each) =>
    typeof each === 'string' ? each : each.id,
  );
  const met = [...new Set(used.flatMap((batch) => batch.boards))];
  const trials = batches.filter(({ trial }) => trial);
  const hasTime = settings.restMin + settings.stirMin <= settings.potLifeMin;
  const powderKg = sum(used, (batch) => batch.powderKg);
  const mixedKg = sum(batches, (batch) => batch.powderKg);
  return [
    ...faults,
    ...say(
      [...things].sort().join() === [...met].sort().join(),
      `batches are for ${met.join()}, not ${things.join()}`,
    ),
    ...say(isNear(powderKg, adhesive.powderKg), `batches: ${powderKg} kg, adhesive ${adhesive.powderKg}`),
    ...say(
      isNear(
        sum(used, (batch) => batch.volumeL),
        adhesive.volumeL,
      ),
      'volumes of batches do not sum',
    ),
    ...say(trials.length === (settings.trialMixKg > 0 && hasTime ? 1 : 0), `${trials.length} trial mixes`),
    ...say(
      trials.every(({ number, powderKg: kg }) => number === 1 && kg <= settings.trialMixKg + 1e-6),
      'the trial mix is not first or not small',
    ),
    ...say(adhesive.bags * adhesive.bagKg >= mixedKg - 1e-6, 'too few bags'),
    ...say((adhesive.bags - 1) * adhesive.bagKg < mixedKg + 1e-6, 'too many bags'),
  ];
}
