import { beforeEach, expect, test } from 'vitest';
import { makeSurvey } from '../../src/app/newSurvey.ts';
import { takeProfile } from '../../src/app/profile.ts';
import { Profiles } from '../../src/app/profiles.svelte.ts';
import { makeMemoryStore, type Store } from '../../src/app/store.ts';

const { lining } = makeSurvey('North wall', 3600, 2450, 'mm');
const profile = (name: string, min = 5) =>
  takeProfile({ ...lining, bed: { ...lining.bed, min } }, name, 1000);

let store: Store;
let profiles: Profiles;
const names = (of: Profiles) => of.list.map(({ name }) => name);
/** The profiles as a page opened anew finds them. */
async function reopen(): Promise<Profiles> {
  const next = new Profiles(store);
  await next.read();
  return next;
}

beforeEach(async () => {
  store = makeMemoryStore();
  profiles = await reopen();
});

test('none at first, and that is no trouble', () => {
  expect([profiles.list, profiles.last, profiles.stop, profiles.ready]).toEqual([[], null, null, true]);
});

test('a profile is there again when the page is opened anew, as the one used last', async () => {
  expect(await profiles.keep(profile('old brick'))).toBe(true);
  await profiles.keep(profile('block'));
  const next = await reopen();
  expect(next.list).toEqual([profile('block'), profile('old brick')]);
  expect(next.last).toBe('block');
  await next.markUsed('old brick');
  expect((await reopen()).last).toBe('old brick');
});

test('one of the same name is replaced', async () => {
  await profiles.keep(profile('block'));
  await profiles.keep(profile('block', 8));
  expect((await reopen()).list).toEqual([profile('block', 8)]);
});

test('deleted it is gone, and can be put back', async () => {
  await profiles.keep(profile('block'));
  await profiles.remove('block');
  expect((await reopen()).list).toEqual([]);
  await profiles.keep(profile('block'));
  expect((await reopen()).list).toEqual([profile('block')]);
});

test('what another window kept meanwhile stays', async () => {
  const other = await reopen();
  await profiles.keep(profile('block'));
  await other.keep(profile('old brick'));
  expect(names(await reopen())).toEqual(['block', 'old brick']);
});

test('what cannot be read is told, kept, and does not hide the others', async () => {
  await profiles.keep(profile('block'));
  const text = (await store.readSetting('profiles'))!;
  const damaged = [{ format: 'bedplane-profile', version: 9 }, 'nothing'];
  await store.writeSetting('profiles', JSON.stringify([...(JSON.parse(text) as unknown[]), ...damaged]));
  const next = await reopen();
  expect(names(next)).toEqual(['block']);
  expect(next.stop).toEqual({ code: 'profiles_unreadable', count: 2 });
  await next.keep(profile('old brick'));
  expect(JSON.parse((await store.readSetting('profiles'))!)).toEqual(expect.arrayContaining(damaged));
  expect(names(await reopen())).toEqual(['block', 'old brick']);
});

test('a list that is no JSON is told and kept', async () => {
  await store.writeSetting('profiles', '[{"form');
  const next = await reopen();
  expect(next.stop).toEqual({ code: 'profiles_unreadable', count: 1 });
  await next.keep(profile('block'));
  expect(JSON.parse((await store.readSetting('profiles'))!)).toContain('[{"form');
});

test('a device that keeps nothing is told of, and the list stays as it was', async () => {
  await profiles.keep(profile('block'));
  store.writeSetting = () => Promise.reject(new Error('the disk is full'));
  expect(await profiles.keep(profile('old brick'))).toBe(false);
  expect(profiles.stop).toEqual({ code: 'profiles_not_kept', reason: 'the disk is full' });
  expect(await profiles.remove('block')).toBe(false);
  expect(names(profiles)).toEqual(['block']);
});
