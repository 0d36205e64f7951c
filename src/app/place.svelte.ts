/** The places of the work, in its order. */
export const places = ['surveys', 'wall', 'readings', 'photos', 'surface', 'lining', 'papers'] as const;
export type PlaceName = (typeof places)[number];

/**
 * Where an address fragment leads: a place, and the photo that is open there.
 * @example placeOfHash('#photos/f2') // { name: 'photos', photo: 'f2' }
 * @example placeOfHash('#elsewhere') // { name: 'surveys', photo: null }
 */
export function placeOfHash(hash: string): { name: PlaceName; photo: string | null } {
  const [name, photo] = hash.replace(/^#/, '').split('/');
  const known = places.find((place) => place === name) ?? 'surveys';
  return { name: known, photo: known === 'photos' && photo ? decodeURIComponent(photo) : null };
}

/** The place on screen. It lives in the address, so that the phone's "back" and a reload lead where one expects. */
export class Place {
  private at = $state.raw(placeOfHash(location.hash));
  readonly name = $derived(this.at.name);
  readonly photo = $derived(this.at.photo);

  constructor(private readonly remember: (hash: string) => void) {
    addEventListener('hashchange', () => this.read());
  }

  go(name: PlaceName, photo: string | null = null): void {
    location.hash = photo === null ? name : `${name}/${encodeURIComponent(photo)}`;
    this.read();
  }

  private read(): void {
    this.at = placeOfHash(location.hash);
    this.remember(location.hash);
  }
}
