/** A part of the lining place: its address after `#lining/`, what it is called, and the place or part that follows it in the work. */
export interface LiningPart {
  readonly part: string | null;
  readonly name: string;
}

/** The parts in the order in which one goes through them; the settings stand aside. */
export const liningParts = [
  { part: null, name: 'Overview' },
  { part: 'plane', name: 'Plane and bed' },
  { part: 'boards', name: 'Boards' },
  { part: 'screws', name: 'Gauge screws' },
  { part: 'adhesive', name: 'Adhesive' },
  { part: 'work', name: 'Order of work' },
  { part: 'settings', name: 'Settings' },
] as const satisfies readonly LiningPart[];

export type PartName = (typeof liningParts)[number]['part'];

/**
 * The part that an address names; the overview where it names none that is known.
 * @example findPart('boards') // 'boards'
 * @example findPart('elsewhere') // null
 */
export function findPart(part: string | null): PartName {
  return liningParts.find((each) => each.part === part)?.part ?? null;
}

/**
 * The address of a part.
 * @example hashOfPart('plane') // '#lining/plane'
 * @example hashOfPart(null) // '#lining'
 */
export function hashOfPart(part: PartName): string {
  return part === null ? '#lining' : `#lining/${part}`;
}

/**
 * Where to go on after a part, with its name: the next one, after the order of work the papers, from the settings back to the overview.
 * @example nextAfter('work').hash // '#papers'
 * @example nextAfter('settings').hash // '#lining'
 */
export function nextAfter(part: PartName): { readonly hash: string; readonly name: string } {
  if (part === 'work') return { hash: '#papers', name: 'Papers' };
  if (part === 'settings') return { hash: '#lining', name: 'Overview' };
  const next = liningParts[liningParts.findIndex((each) => each.part === part) + 1]!;
  return { hash: hashOfPart(next.part), name: next.name };
}
