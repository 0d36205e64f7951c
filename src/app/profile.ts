import type { Lining } from '../core/survey.ts';
import { parseProfile, writeProfile, type LiningProfile } from '../file/profileJson.ts';
import { presentFields, withoutFields } from './fields.ts';

export type { LiningProfile };

/**
 * What of a lining is the user's way of working and not this wall's: settings, bed limits, boards and screws on hand, and how
 * carefully the plane is laid. Faces, spots to hack off, what was set and what is done stay with the wall.
 */
export function takeProfile(lining: Lining, name: string, savedAt: number): LiningProfile {
  const { board, bed, stock, screwLengths, settings, plane } = lining;
  const { sigmas, lean } = plane ?? {};
  return { name, savedAt, board, bed, stock, screwLengths, settings, sigmas, lean };
}

/** A lining worked as a profile says: what the profile does not name is as the trade has it, what belongs to the wall stays. */
export function applyProfile(lining: Lining, profile: LiningProfile): Lining {
  const { board, bed, stock, screwLengths, settings, sigmas, lean } = profile;
  const wishes = {
    ...withoutFields(lining.plane ?? {}, 'sigmas', 'lean'),
    ...presentFields({ sigmas, lean }),
  };
  const plane = lining.plane || Object.keys(wishes).length > 0 ? wishes : undefined;
  return {
    ...withoutFields(lining, 'stock', 'screwLengths', 'settings', 'plane'),
    board,
    bed,
    ...presentFields({ stock, screwLengths, settings, plane }),
  };
}

/** Whether a lining is worked just as a profile says. */
export function isOfProfile(lining: Lining, profile: LiningProfile): boolean {
  const text = (of: LiningProfile) =>
    JSON.stringify({ ...of, name: '', savedAt: 0 }, (_, value: unknown) =>
      // keys in one order, whoever wrote them
      typeof value === 'object' && value !== null && !Array.isArray(value)
        ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
        : value,
    );
  return text(takeProfile(lining, '', 0)) === text(profile);
}

/** A profile as a file to take along. */
export function makeProfileFile(profile: LiningProfile): Blob {
  return new Blob([writeProfile(profile)], { type: 'application/json' });
}

/**
 * Reads a profile's file.
 * @throws profile_not_ours, profile_field_wrong
 */
export function readProfileFile(text: string, file: string): LiningProfile {
  return parseProfile(text, file);
}
