import type { Session } from './session.svelte.ts';

/**
 * Keeps on the device what is typed and not taken yet, null = nothing: a phone may throw the page out while its camera is open. `name` is
 * that of the form, with the survey's id where it belongs to one.
 */
export function keepDraft(session: Pick<Session, 'remember'>, name: string, draft: object | null): void {
  void session.remember(`draft ${name}`, draft ? JSON.stringify(draft) : '');
}

/** What was typed and not taken before the page was left; null = nothing, or nothing that can be read. */
export async function readDraft<T extends object>(
  session: Pick<Session, 'store'>,
  name: string,
): Promise<T | null> {
  try {
    const kept: unknown = JSON.parse((await session.store.readSetting(`draft ${name}`)) || 'null');
    return kept && typeof kept === 'object' ? (kept as T) : null;
  } catch {
    return null;
  }
}
