import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { contrastOf } from '../contrast.ts';

const read = (path: string) =>
  readFileSync(fileURLToPath(new URL(`../../src/${path}`, import.meta.url)), 'utf8');
const sheet = read('ui/look.css');

/** The colours that the first rule of a selector sets. */
function coloursOf(selector: string): Record<string, string> {
  const from = sheet.indexOf(`${selector} {`);
  expect(from, selector).toBeGreaterThanOrEqual(0);
  const rule = sheet.slice(from, sheet.indexOf('}', from));
  return Object.fromEntries(
    [...rule.matchAll(/--([a-z-]+): (#[0-9a-f]{3,6});/g)].map(([, name, colour]) => [name, colour]),
  ) as Record<string, string>;
}

const light = coloursOf(':root');
const dark = { ...light, ...coloursOf(":root[data-look='dark']") };
const looks = [
  ['light', light],
  ['dark', dark],
] as const;
const grounds = ['paper', 'sheet', 'signal-wash', 'ruled-faint'];

/** The pairs on the screen that fall short, as "name on ground 3.1". */
const short = (
  colours: Record<string, string>,
  names: readonly string[],
  on: readonly string[],
  least: number,
) =>
  names.flatMap((name) =>
    on
      .map((ground) => ({ ground, contrast: contrastOf(colours[name]!, colours[ground]!) }))
      .filter(({ contrast }) => !(contrast >= least))
      .map(({ ground, contrast }) => `${name} on ${ground} ${contrast.toFixed(2)}`),
  );

test('the dark look has a value of its own for every colour but those of points on photographs', () => {
  const own = coloursOf(":root[data-look='dark']");
  const missing = Object.keys(light).filter((name) => own[name] === undefined);
  expect(missing).toEqual([
    'point-found',
    'point-fair',
    'point-poor',
    'point-hand',
    'point-suspect',
    'point-off',
    'point-halo',
  ]);
  expect(Object.keys(light).length).toBeGreaterThan(15);
});

// WCAG 2.2, success criterion 1.4.3 (text 4.5:1)
test.each(looks)('%s: words read on every ground they stand on', (_, colours) => {
  expect(short(colours, ['pencil', 'graphite', 'signal'], grounds, 4.5)).toEqual([]);
  expect(short(colours, ['pencil', 'signal'], ['rule-ground'], 4.5)).toEqual([]);
  expect(short(colours, ['on-fill'], ['pencil', 'signal'], 4.5)).toEqual([]);
  expect(short(colours, ['sheet'], ['pencil'], 4.5)).toEqual([]);
});

// WCAG 2.2, success criterion 1.4.11 (controls and graphics 3:1)
test.each(looks)('%s: borders of controls, the focus and the laser stand out', (_, colours) => {
  expect(short(colours, ['edge', 'focus', 'laser'], grounds, 3)).toEqual([]);
  expect(short(colours, ['focus', 'pencil'], ['rule-ground'], 3)).toEqual([]);
  expect(short(colours, ['disabled'], ['paper', 'sheet'], 3)).toEqual([]);
});

// WCAG 2.2, success criterion 1.4.6 (7:1), for sunlight
test.each(looks)('%s: what one reads most reads in sunlight', (_, colours) => {
  expect(short(colours, ['pencil', 'graphite'], ['paper', 'sheet'], 7)).toEqual([]);
});

test('points on a photograph part from their halo', () => {
  for (const name of ['point-found', 'point-fair', 'point-poor', 'point-hand', 'point-suspect', 'point-off'])
    expect(contrastOf(light[name]!, light['point-halo']!), name).toBeGreaterThan(4.5);
});

test("the browser's own bars have the colour of the page", () => {
  const page = read('index.html');
  for (const [scheme, colours] of looks)
    expect(page).toContain(
      `<meta name="theme-color" media="(prefers-color-scheme: ${scheme})" content="${colours.paper}" />`,
    );
});

test('the formula gives the values known of it', () => {
  expect(contrastOf('#000', '#fff')).toBe(21);
  expect(contrastOf('#fff', '#fff')).toBe(1);
  // the grey that is named as the last to pass on white at 4.5:1 (WebAIM, "Contrast and Color Accessibility"; from memory)
  expect(contrastOf('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
});
