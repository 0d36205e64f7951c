import type { WorkCaution, WorkStep } from '../../core/liningPlan.ts';

/**
 * What a caution comes down to where its sentence was read at an earlier step. Cautions that are not here are said in full
 * wherever they matter: what lies hidden in the wall is worth reading twice.
 */
const inShort: { readonly [C in WorkCaution]?: string } = {
  clean_bucket: 'clean bucket and whisk',
  no_retemper: 'no water into a mix that stiffens',
  temperature: 'room warm enough',
  board_dust: 'suction and mask',
  stone_dust: 'suction and mask',
  lifting: 'two to lift',
  local_rules: 'local rules first',
  old_coatings: 'old coatings tested first',
  over_pot_life: 'a second pair of hands',
};

/** The cautions of one step: those to say in full, and those said before, in short. */
export interface StepCautions {
  readonly full: readonly WorkCaution[];
  readonly again: readonly string[];
}

/** The cautions of each step of the work, in its order. */
export function sortCautions(work: readonly Pick<WorkStep, 'cautions'>[]): StepCautions[] {
  const said = new Set<WorkCaution>();
  return work.map(({ cautions }) => {
    const again = cautions.filter((caution) => said.has(caution) && inShort[caution] !== undefined);
    const full = cautions.filter((caution) => !again.includes(caution));
    for (const caution of full) said.add(caution);
    return { full, again: [...new Set(again.map((caution) => inShort[caution]!))] };
  });
}

/**
 * Cautions said before, as one line; empty where there are none.
 * @example sayAgain(['room warm enough', 'suction and mask']) // 'Again: room warm enough; suction and mask.'
 */
export function sayAgain(again: readonly string[]): string {
  return again.length > 0 ? `Again: ${again.join('; ')}.` : '';
}
