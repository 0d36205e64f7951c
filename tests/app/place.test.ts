import { beforeEach, expect, test, vi } from 'vitest';
import { Place } from '../../src/app/place.svelte.ts';

const address = { hash: '#surveys' };

beforeEach(() => {
  address.hash = '#surveys';
  vi.stubGlobal('location', address);
  vi.stubGlobal('addEventListener', () => undefined);
});

test('a job goes on from where it began', () => {
  const place = new Place(() => undefined);
  place.goOn('surveys', 'wall');
  expect(address.hash).toBe('wall');
});

test('a job does not take one back who has gone on meanwhile, not even before the page was told of it', () => {
  const place = new Place(() => undefined);
  address.hash = '#lining/settings';
  place.goOn('surveys', 'wall');
  expect(address.hash).toBe('#lining/settings');
  expect([place.name, place.part]).toEqual(['lining', 'settings']);
});
