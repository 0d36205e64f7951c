import { Adding } from './adding.svelte.ts';
import { Asking } from './asking.svelte.ts';
import { Finding } from './finding.svelte.ts';
import { Place } from './place.svelte.ts';
import { Proposing } from './proposing.svelte.ts';
import { Session } from './session.svelte.ts';
import { Solving } from './solving.svelte.ts';
import { VisionLine } from './visionLine.ts';
import { Wanted } from './wanted.svelte.ts';

/** Everything a screen works with: the open survey, where one is, and its long jobs. */
export interface Desk {
  readonly session: Session;
  readonly place: Place;
  readonly adding: Adding;
  readonly finding: Finding;
  readonly proposing: Proposing;
  readonly asking: Asking;
  readonly solving: Solving;
  readonly wanted: Wanted;
}

/** Sets up the desk of this page; jobs end when another survey is opened. */
export function makeDesk(): Desk {
  const session = new Session();
  const vision = new VisionLine();
  const finding = new Finding(session, vision);
  const asking = new Asking(session);
  const proposing = new Proposing(session, vision, asking);
  const solving = new Solving(session);
  const wanted = new Wanted(session);
  const adding = new Adding(session, wanted, proposing);
  const place = new Place((hash) => void session.remember('place', hash));
  return { session, place, adding, finding, proposing, asking, solving, wanted };
}
