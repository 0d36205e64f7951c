import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { version } from '../../src/app/version.ts';

test('the version on screen is that of package.json', () => {
  const { version: packaged } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
  expect(version).toBe(packaged);
});
