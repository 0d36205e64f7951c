import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { places } from '../../../src/app/place.svelte.ts';
import { usualBed } from '../../../src/app/newSurvey.ts';
import { tradeDefaults } from '../../../src/core/lining/defaults.ts';
import { firstSteps, stepsAt } from '../../../src/ui/help/firstSteps.ts';
import { hints } from '../../../src/ui/help/hints.ts';
import { pictureKeys } from '../../../src/ui/help/keys.ts';
import { helpSections } from '../../../src/ui/help/sections.ts';
import { placeNames } from '../../../src/ui/screenTitle.ts';
import { LINE_TOOLS, SUSPECTS_KEY } from '../../../src/ui/photo/lineTools.ts';
import { siteCautions } from '../../../src/ui/words.ts';

const read = (path: string) =>
  readFileSync(fileURLToPath(new URL(`../../../src/ui/${path}`, import.meta.url)), 'utf8');
const textOf = (id: string) => JSON.stringify(helpSections.find((section) => section.id === id)!.blocks);

test('every section has an address of its own and something to say', () => {
  expect(new Set(helpSections.map(({ id }) => id)).size).toBe(helpSections.length);
  for (const { id, title, blocks } of helpSections) {
    expect(title, id).not.toBe('');
    expect(blocks.length, id).toBeGreaterThan(0);
    expect(JSON.stringify(blocks), id).not.toMatch(/undefined|NaN|\[object/);
  }
});

test('every key that the picture knows is in the help', () => {
  const source = read('photo/keys.ts');
  const known = /const KEYS[^{]*\{([\s\S]*?)\n\};/.exec(source)![1]!;
  const written = [...known.matchAll(/^ {2}'?([^\s':]+)'?:/gm)].map((found) => found[1]!);
  const names = [
    ...written.filter((name) => name !== '[SUSPECTS_KEY]'),
    ...LINE_TOOLS.map(({ key }) => key),
    SUSPECTS_KEY,
  ];
  expect(names.length).toBeGreaterThan(10);
  const told = pictureKeys.flatMap(([keys]) => keys.toLowerCase().split(' '));
  // "=" is "+" without Shift, Backspace another Delete
  const alike: Record<string, string> = { '=': '+', '-': '−', Backspace: 'delete' };
  expect(names.filter((name) => !told.includes((alike[name] ?? name).toLowerCase()))).toEqual([]);
});

test('figures are those that a survey starts with', () => {
  const { potLifeMin, waterLPerKg, restMin, trialMixKg, mixMostKg, floorGapMm } = tradeDefaults;
  for (const figure of [
    `${potLifeMin.value} min`,
    `${waterLPerKg.value} L`,
    `rest of ${restMin.value} min`,
    `${trialMixKg.value} kg`,
    `${mixMostKg.value} kg`,
    `${floorGapMm.value} mm`,
  ])
    expect(textOf('adhesive')).toContain(figure);
  for (const figure of Object.values(usualBed)) expect(textOf('verdicts')).toContain(`${figure} mm`);
});

test('all cautions of the site are said', () => {
  for (const caution of siteCautions) expect(textOf('cautions')).toContain(caution);
});

test('every place has its hint, one or two short sentences', () => {
  for (const place of places) expect(hints[placeNames[place]], place).toBeDefined();
  for (const hint of Object.values(hints)) {
    expect(hint.length, hint).toBeLessThan(110);
    expect(hint).toMatch(/\.$/);
  }
});

test('the steps: all at the start, each again where it is done', () => {
  expect(stepsAt('surveys')).toEqual(firstSteps);
  expect(stepsAt('readings').length).toBeGreaterThan(0);
  expect(stepsAt('photos').length).toBeGreaterThan(0);
  expect(stepsAt('papers')).toEqual([]);
  for (const { words } of firstSteps) expect(words.length, words).toBeLessThan(130);
});
