import type { LiningCaution, LiningPlan } from '../../core/results.ts';
import type { WarningCode } from '../../core/refusal.ts';
import type { Survey } from '../../core/survey.ts';
import { tellWarnings } from '../figures.ts';
import { liningCautions } from '../words.ts';
import { findPart, hashOfPart, liningParts, type PartName } from './parts.ts';

/** Something that needs the user before the work, and where in the plan it is dealt with. */
export interface Need {
  readonly words: string;
  readonly hash: string;
  readonly place: string;
}

/** In which part a warning is dealt with; those that are not named here, on the plane and its bed. */
const partOfWarning: Partial<Readonly<Record<WarningCode, PartName>>> = {
  board_too_short: 'boards',
  board_not_in_stock: 'boards',
  cutting_not_proven: 'boards',
  floor_gap_wide: 'boards',
  joint_at_corner: 'boards',
  joint_at_box: 'boards',
  strip_narrow: 'boards',
  screw_too_short: 'screws',
  screw_at_services: 'screws',
  screw_off: 'screws',
  board_binds: 'screws',
  packing_shallow: 'boards',
  contact_short: 'boards',
  sheet_tight: 'boards',
  mix_outlasts_pot: 'adhesive',
};

/** A warning that says the same as a caution of the verdict. */
const sameAs: Partial<Readonly<Record<LiningCaution, WarningCode>>> = {
  high_point_unsure: 'bed_may_be_thin',
  horizontal_joint: 'board_too_short',
};

function placeOf(code: WarningCode): Pick<Need, 'hash' | 'place'> {
  if (code === 'surface_uncertain') return { hash: '#surface', place: 'Surface' };
  const part = findPart(partOfWarning[code] ?? 'plane');
  return { hash: hashOfPart(part), place: liningParts.find((each) => each.part === part)!.name };
}

/** The plan's warnings in words, each with where it is dealt with; those that say the same of several things are one. */
export function listNeeds(survey: Survey, { warnings }: LiningPlan): Need[] {
  const codes = [...new Set(warnings.map(({ code }) => code))];
  return codes.flatMap((code) =>
    tellWarnings(
      survey,
      warnings.filter((warning) => warning.code === code),
    ).map((words) => ({ words, ...placeOf(code) })),
  );
}

/** The verdict's cautions in words, without what a warning says already. */
export function listCautions({ verdict, warnings }: LiningPlan): string[] {
  return verdict.cautions
    .filter((caution) => !warnings.some(({ code }) => code === sameAs[caution]))
    .map((caution) => liningCautions[caution]);
}
