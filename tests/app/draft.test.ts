import { expect, test } from 'vitest';
import { keepDraft, readDraft } from '../../src/app/draft.ts';
import { makeMemoryStore } from '../../src/app/store.ts';

const makeSession = () => {
  const store = makeMemoryStore();
  return { store, remember: (key: string, value: string) => store.writeSetting(key, value) };
};

test('what is typed comes back under its name until it is taken', async () => {
  const session = makeSession();
  expect(await readDraft(session, 'reading s1')).toBeNull();
  keepDraft(session, 'reading s1', { along: 300, up: null });
  expect(await readDraft(session, 'reading s1')).toEqual({ along: 300, up: null });
  expect(await readDraft(session, 'reading s2')).toBeNull();
  keepDraft(session, 'reading s1', null);
  expect(await readDraft(session, 'reading s1')).toBeNull();
});

test.each(['{"along":', '12', '"text"'])('%s on the device is no draft', async (text) => {
  const session = makeSession();
  await session.store.writeSetting('draft reading s1', text);
  expect(await readDraft(session, 'reading s1')).toBeNull();
});
