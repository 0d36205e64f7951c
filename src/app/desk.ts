import { Finding } from './finding.svelte.ts';
import { Place } from './place.svelte.ts';
import { Session } from './session.svelte.ts';
import { Solving } from './solving.svelte.ts';

/** Everything a screen works with: the open survey, where one is, and the two long jobs. */
export interface Desk {
  readonly session: Session;
  readonly place: Place;
  readonly finding: Finding;
  readonly solving: Solving;
}

/** Sets up the desk of this page; jobs end when another survey is opened. */
export function makeDesk(): Desk {
  const session = new Session();
  const finding = new Finding(session);
  const solving = new Solving(session);
  const place = new Place((hash) => void session.remember('place', hash));
  return { session, place, finding, solving };
}
