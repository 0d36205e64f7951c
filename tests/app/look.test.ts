import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { runInNewContext } from 'node:vm';
import { expect, test } from 'vitest';
import { LOOK_KEY, readLook } from '../../src/app/look.svelte.ts';

test.each([null, '', 'null', '[]', '{"look":"blue","hand":7,"hintsGone":"all"}'])(
  'kept as %s, the look is the usual one',
  (text) => {
    expect(readLook(text)).toEqual({ look: 'device', hand: 'right', size: 'usual', hintsGone: [] });
  },
);

test('what was chosen is read back, hints put away too', () => {
  const kept = { look: 'dark', hand: 'left', size: 'large', hintsGone: ['Wall'] };
  expect(readLook(JSON.stringify(kept))).toEqual(kept);
});

const script = readFileSync(fileURLToPath(new URL('../../src/public/look.js', import.meta.url)), 'utf8');

/** What the script before the first paint makes of a text kept, on a device that is dark or not. */
function paintFirst(text: string | null, matches: boolean): Record<string, string> {
  const dataset: Record<string, string> = {};
  runInNewContext(script, {
    document: { documentElement: { dataset } },
    localStorage: { getItem: (key: string) => (key === LOOK_KEY ? text : null) },
    matchMedia: () => ({ matches }),
  });
  return dataset;
}

test('the script before the first paint takes the same choices, and the device where there is none', () => {
  const usual = { hand: 'right', size: 'usual' };
  for (const text of [null, 'null', 'not ours', '{"look":"device"}']) {
    expect(paintFirst(text, false)).toEqual({ ...usual, look: 'light' });
    expect(paintFirst(text, true)).toEqual({ ...usual, look: 'dark' });
  }
  expect(paintFirst('{"look":"light","hand":"left","size":"large"}', true)).toEqual({
    look: 'light',
    hand: 'left',
    size: 'large',
  });
  expect(paintFirst('{"look":"dark"}', false).look).toBe('dark');
});
