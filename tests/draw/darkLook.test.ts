import { interpolateLab, lab, rgb } from 'd3';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { darkColour, darken } from '../../src/draw/darkLook.ts';
import { look } from '../../src/draw/look.ts';
import { element, toSvg } from '../../src/draw/tree.ts';
import { contrastOf, luminanceOf } from '../contrast.ts';

const golden = fileURLToPath(new URL('../golden/', import.meta.url));
/** Every colour that any drawing uses, blended ones too. */
const used = [
  ...new Set(
    readdirSync(golden).flatMap((name) =>
      [...readFileSync(golden + name, 'utf8').matchAll(/(?:fill|stroke)="([^"]+)"/g)].map(
        (found) => found[1]!,
      ),
    ),
  ),
];

test('no drawing glares: its grounds become dark, its strokes light', () => {
  for (const ground of ['sheet', 'wall', 'ruled', 'signalWash', 'washShallow'] as const)
    expect(luminanceOf(darkColour(look[ground])), ground).toBeLessThan(0.06);
  for (const ink of ['pencil', 'graphite', 'signal', 'green', 'red'] as const)
    expect(luminanceOf(darkColour(look[ink])), ink).toBeGreaterThan(0.3);
});

test('every colour of the drawings is turned, and what is none is let be', () => {
  expect(used.length).toBeGreaterThan(30);
  for (const colour of used)
    if (colour.startsWith('#')) expect(darkColour(colour)).toMatch(/^#[0-9a-f]{6}$/);
    else expect(darkColour(colour)).toBe(colour);
});

test('the order of lightness is kept, turned: no two tones change places', () => {
  const sorted = used.filter((colour) => colour.startsWith('#')).sort((a, b) => lab(a).l - lab(b).l);
  const after = sorted.map((colour) => lab(darkColour(colour)).l);
  // 8 bits a channel and colours outside the screen's range move lightness by a little
  after.slice(1).forEach((lightness, at) => expect(lightness, sorted[at + 1]).toBeLessThan(after[at]! + 1.5));
});

test.each([
  ['bands', look.washShallow],
  ['dabs', look.ruled],
] as const)('the wash of %s grows lighter with depth all the way', (_, shallow) => {
  const wash = interpolateLab(shallow, look.washDeep);
  const steps = Array.from({ length: 12 }, (__, k) => luminanceOf(darkColour(rgb(wash(k / 11)).formatHex())));
  steps.slice(1).forEach((luminance, k) => expect(luminance).toBeGreaterThan(steps[k]!));
});

// WCAG 2.2, success criteria 1.4.3 and 1.4.11
test('words read on every ground, and lines stand out from the sheet', () => {
  const on = (ink: keyof typeof look, ground: keyof typeof look) =>
    contrastOf(darkColour(look[ink]), darkColour(look[ground]));
  for (const ground of ['sheet', 'wall', 'washShallow', 'washDeep', 'signalWash'] as const)
    expect(on('pencil', ground), `pencil on ${ground}`).toBeGreaterThan(4.5);
  for (const ink of ['graphite', 'signal', 'green', 'red'] as const)
    for (const ground of ['sheet', 'wall', 'signalWash'] as const)
      expect(on(ink, ground), `${ink} on ${ground}`).toBeGreaterThan(4.5);
  expect(on('edge', 'sheet')).toBeGreaterThan(3);
});

test('light marks are told apart in the dark as they are on light', () => {
  const marks = ['wall', 'ruled', 'signalWash', 'washShallow'] as const;
  for (const mark of marks)
    expect(contrastOf(darkColour(look[mark]), darkColour(look.sheet)), mark).toBeGreaterThanOrEqual(
      contrastOf(look[mark], look.sheet),
    );
});

test('a tree is turned all through, its shape, sizes and words as they were but for the direction of a wash', () => {
  const tree = element(
    'g',
    { fill: look.sheet, 'stroke-width': 2 },
    element('text', { x: 1, fill: look.pencil }, 'bands, darker = further back'),
    element('path', { d: 'M0 0', fill: 'none', stroke: look.signal }),
  );
  const text = toSvg(darken(tree));
  expect(text).toContain(`<path d="M0 0" fill="none" stroke="${darkColour(look.signal)}"/>`);
  expect(text).toContain(`fill="${darkColour(look.pencil)}">bands, lighter = further back<`);
  expect(text).toContain('stroke-width="2"');
  expect(text).not.toContain(look.sheet);
});
