import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { isWinAnsi } from '../../src/draw/text.ts';
import { listTexts, toSvg, type SvgNode } from '../../src/draw/tree.ts';
import { cases } from './cases.ts';

const golden = (name: string) => fileURLToPath(new URL(`../golden/${name}.svg`, import.meta.url));
// goldens change only on purpose: UPDATE_GOLDEN=yes npx vitest run tests/draw, and a sentence in the commit says why
const update = process.env.UPDATE_GOLDEN === 'yes';
const allNodes = (node: SvgNode): SvgNode[] => [
  node,
  ...node.children.flatMap((child) => (typeof child === 'string' ? [] : allNodes(child))),
];

describe.each(cases)('$name', ({ name, draw }) => {
  const drawing = draw();
  const text = toSvg(drawing);

  test('is as it was', () => {
    if (update) writeFileSync(golden(name), `${text}\n`);
    expect(existsSync(golden(name)), 'a golden of that name').toBe(true);
    expect(`${text}\n`).toBe(readFileSync(golden(name), 'utf8'));
  });

  test('comes out the same a second time', () => {
    expect(toSvg(draw())).toBe(text);
  });

  test("every text can be shown by a PDF's built-in fonts", () => {
    const texts = listTexts(drawing);
    expect(texts.length).toBeGreaterThan(0);
    expect(texts.filter((each) => !isWinAnsi(each))).toEqual([]);
  });

  test('is styled by attributes alone and refers to nothing', () => {
    const nodes = allNodes(drawing);
    const tags = new Set(nodes.map((node) => node.tag));
    expect(
      [...tags].filter((tag) => !['svg', 'g', 'rect', 'line', 'circle', 'path', 'text'].includes(tag)),
    ).toEqual([]);
    const names = new Set(nodes.flatMap((node) => Object.keys(node.attrs)));
    for (const name of ['style', 'class', 'id', 'href', 'clip-path', 'dominant-baseline', 'filter'])
      expect(names.has(name), name).toBe(false);
    expect(text).not.toMatch(/NaN|Infinity|undefined|url\(/);
  });

  test('says its size and view', () => {
    expect(text).toMatch(
      /^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" viewBox="0 0 [\d.]+ [\d.]+" width="[\d.]+(mm)?" /,
    );
  });
});

test('every golden belongs to a case', () => {
  const files = readdirSync(fileURLToPath(new URL('../golden', import.meta.url))).filter((file) =>
    file.endsWith('.svg'),
  );
  expect(files.sort()).toEqual(cases.map(({ name }) => `${name}.svg`).sort());
});
