import { packProfile, parseProfile, type LiningProfile } from '../file/profileJson.ts';
import type { Store } from './store.ts';
import { stopOf } from './stops.ts';
import type { Stop } from './trouble.ts';

const LIST = 'profiles';
const LAST = 'last profile';

/** What is kept: the profiles that can be read, and the others as they are. */
interface Kept {
  readonly profiles: readonly LiningProfile[];
  readonly unreadable: readonly unknown[];
}

function readKept(text: string | undefined): Kept {
  let items: unknown;
  try {
    items = JSON.parse(text ?? '[]');
  } catch {
    items = [text];
  }
  const profiles: LiningProfile[] = [];
  const unreadable: unknown[] = [];
  for (const item of Array.isArray(items) ? (items as unknown[]) : [items]) {
    try {
      profiles.push(parseProfile(item, LIST));
    } catch {
      unreadable.push(item);
    }
  }
  return { profiles: sortByName(profiles), unreadable };
}

const sortByName = (profiles: readonly LiningProfile[]) =>
  [...profiles].sort((a, b) => a.name.localeCompare(b.name));

/** The profiles kept on this device, and the one that was used last. */
export class Profiles {
  list = $state.raw<readonly LiningProfile[]>([]);
  /** Name of the profile that was saved or applied last. */
  last = $state.raw<string | null>(null);
  stop = $state.raw<Stop | null>(null);
  ready = $state.raw(false);

  constructor(private readonly store: Store) {}

  /** False where the device keeps nothing beyond this page. */
  get lasting(): boolean {
    return this.store.lasting;
  }

  /** Looks at what is kept. */
  async read(): Promise<void> {
    try {
      const { profiles, unreadable } = readKept(await this.store.readSetting(LIST));
      this.list = profiles;
      this.last = (await this.store.readSetting(LAST)) || null;
      this.stop = unreadable.length > 0 ? { code: 'profiles_unreadable', count: unreadable.length } : null;
    } catch (thrown) {
      this.stop = stopOf(thrown);
    }
    this.ready = true;
  }

  /** Keeps a profile in place of one of the same name, as the one used last; says whether it is on the device. */
  async keep(profile: LiningProfile): Promise<boolean> {
    const isKept = await this.rewrite((profiles) => [
      ...profiles.filter(({ name }) => name !== profile.name),
      profile,
    ]);
    if (isKept) await this.markUsed(profile.name);
    return isKept;
  }

  /** Deletes the profile of a name. */
  async remove(name: string): Promise<boolean> {
    return this.rewrite((profiles) => profiles.filter((each) => each.name !== name));
  }

  /** Notes which profile was used last, to be offered for the next survey. */
  async markUsed(name: string): Promise<void> {
    this.last = name;
    await this.store.writeSetting(LAST, name).catch(() => undefined);
  }

  /** Changes what is kept, as it is now: another window may have changed it. What cannot be read is kept as it is. */
  private async rewrite(
    change: (profiles: readonly LiningProfile[]) => readonly LiningProfile[],
  ): Promise<boolean> {
    try {
      const { profiles, unreadable } = readKept(await this.store.readSetting(LIST));
      const changed = sortByName(change(profiles));
      await this.store.writeSetting(LIST, JSON.stringify([...changed.map(packProfile), ...unreadable]));
      this.list = changed;
      this.stop = null;
      return true;
    } catch (thrown) {
      const reason = thrown instanceof Error ? thrown.message || thrown.name : String(thrown);
      this.stop = { code: 'profiles_not_kept', reason };
      return false;
    }
  }
}
