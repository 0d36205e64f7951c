import { Refused } from '../core/refusal.ts';
import type { Stop } from './trouble.ts';

/** Whatever was thrown, as what the user is told: a refusal as it is, anything else as a bug of ours. */
export function stopOf(thrown: unknown): Stop {
  if (thrown instanceof Refused) return thrown.refusal;
  return { code: 'bug', message: thrown instanceof Error ? thrown.message : String(thrown) };
}
