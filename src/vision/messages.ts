import { Refused, type Refusal } from '../core/refusal.ts';

/** How a call across the worker border ended: errors travel as data, since copying drops an Error's own fields. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly stop: Refusal | { readonly code: 'bug'; readonly message: string } };

/** What the page sends: the number of the call and what is asked. */
export interface Call<Ask> {
  readonly id: number;
  readonly ask: Ask;
}

/** What a worker sends: that it has started, how far a call is (0 to 1), or how it ended. */
export type Reply<T> =
  | { readonly kind: 'ready' }
  | { readonly kind: 'progress'; readonly id: number; readonly share: number }
  | { readonly kind: 'end'; readonly id: number; readonly outcome: Outcome<T> };

/** An error as it crosses the border: a refusal as its data, anything else as a bug with its message. */
export function outcomeOfError<T>(thrown: unknown): Outcome<T> {
  if (thrown instanceof Refused) return { ok: false, stop: thrown.refusal };
  return {
    ok: false,
    stop: { code: 'bug', message: thrown instanceof Error ? thrown.message : String(thrown) },
  };
}
