/** The places of the work, in its order. */
export const places = ['surveys', 'wall', 'readings', 'photos', 'surface', 'lining', 'papers'] as const;
export type PlaceName = (typeof places)[number];
/** Help stands beside the work: it has an address, and no graduation on the rule. */
export type SpotName = PlaceName | 'help';

/** Where on the screen: a place or the help, the photo that is open there, and what of it is meant. */
export interface Spot {
  readonly name: SpotName;
  readonly photo: string | null;
  /** A reading's id, the surface's report, a part of a photo ("mark 2"), a section of the help. */
  readonly part: string | null;
}

/**
 * Where an address fragment leads.
 * @example placeOfHash('#photos/f2') // { name: 'photos', photo: 'f2', part: null }
 * @example placeOfHash('#photos/f2/mark%201') // { name: 'photos', photo: 'f2', part: 'mark 1' }
 * @example placeOfHash('#surface/report') // { name: 'surface', photo: null, part: 'report' }
 * @example placeOfHash('#help/marks') // { name: 'help', photo: null, part: 'marks' }
 * @example placeOfHash('#elsewhere') // { name: 'surveys', photo: null, part: null }
 */
export function placeOfHash(hash: string): Spot {
  const [name, ...rest] = hash.replace(/^#/, '').split('/');
  const known = ([...places, 'help'] as const).find((place) => place === name) ?? 'surveys';
  const parts = rest.map((each) => (each === '' ? null : decodeURIComponent(each)));
  const [photo = null, part = null] = known === 'photos' ? parts : [null, ...parts];
  return { name: known, photo, part };
}

/**
 * The address fragment that leads there.
 * @example hashOfPlace('photos', 'f2', 'line l1') // '#photos/f2/line%20l1'
 */
export function hashOfPlace(name: PlaceName, ...parts: readonly string[]): string {
  return `#${[name, ...parts.map(encodeURIComponent)].join('/')}`;
}

/** The place on screen. It lives in the address, so that the phone's "back" and a reload lead where one expects. */
export class Place {
  private at = $state.raw(placeOfHash(location.hash));
  readonly name = $derived(this.at.name);
  readonly photo = $derived(this.at.photo);
  readonly part = $derived(this.at.part);

  constructor(private readonly remember: (hash: string) => void) {
    addEventListener('hashchange', () => this.read());
  }

  go(name: PlaceName, photo: string | null = null): void {
    location.hash = photo === null ? name : `${name}/${encodeURIComponent(photo)}`;
    this.read();
  }

  /** Goes on from a place that a job began at; not when one went somewhere else meanwhile, be it this very moment. */
  goOn(from: SpotName, to: PlaceName): void {
    // the event that tells of a new address comes later than the address
    this.read();
    if (this.name === from) this.go(to);
  }

  private read(): void {
    this.at = placeOfHash(location.hash);
    this.remember(location.hash);
  }
}
