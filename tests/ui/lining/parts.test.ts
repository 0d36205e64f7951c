import { expect, test } from 'vitest';
import { findPart, hashOfPart, liningParts, nextAfter } from '../../../src/ui/lining/parts.ts';

test('every part has its own address, which leads back to it', () => {
  const hashes = liningParts.map(({ part }) => hashOfPart(part));
  expect(new Set(hashes).size).toBe(liningParts.length);
  for (const { part } of liningParts) expect(findPart(part)).toBe(part);
  expect(findPart('attic')).toBeNull();
});

test('going on leads through every part of the work once and out to the papers', () => {
  const seen: string[] = [];
  for (let hash = '#lining'; hash !== '#papers' && seen.length < 20;) {
    seen.push(hash);
    hash = nextAfter(findPart(hash.split('/')[1] ?? null)).hash;
  }
  expect(seen).toEqual(
    liningParts.filter(({ part }) => part !== 'settings').map(({ part }) => hashOfPart(part)),
  );
});
