import type { Spot, SpotName } from '../app/place.svelte.ts';
import { findPart, liningParts } from './lining/parts.ts';

/** What the places are called. */
export const placeNames: Readonly<Record<SpotName, string>> = {
  surveys: 'Surveys',
  wall: 'Wall',
  readings: 'Readings',
  photos: 'Photos',
  surface: 'Surface',
  lining: 'Lining',
  papers: 'Papers',
  help: 'Help',
};

/**
 * The title of the browser's window: the screen, then the survey that is open (null = none).
 * @example titleOf({ name: 'photos', photo: null, part: null }, 'Old dairy') // 'Photos, Old dairy – Bedplane'
 * @example titleOf({ name: 'photos', photo: 'f2', part: null }, 'Old dairy') // 'Photo f2, Old dairy – Bedplane'
 * @example titleOf({ name: 'surveys', photo: null, part: null }, null) // 'Surveys – Bedplane'
 */
export function titleOf({ name, photo, part }: Spot, survey: string | null): string {
  const screen =
    photo !== null
      ? `${part === 'plan' ? 'Plan on photo' : 'Photo'} ${photo}`
      : name === 'lining' && findPart(part) !== null
        ? liningParts.find((each) => each.part === part)!.name
        : name === 'surface' && part === 'report'
          ? 'Report of the surface'
          : placeNames[name];
  return `${[screen, ...(survey === null ? [] : [survey])].join(', ')} – Bedplane`;
}
