import fc from 'fast-check';
import { expect, test } from 'vitest';
import { element, escapeXml, formatNumber, listTexts, toSvg } from '../../src/draw/tree.ts';

test('texts and attributes are escaped', () => {
  const node = element('svg', { title: 'a "b" <c>' }, element('text', {}, 'x < y & z'));
  expect(toSvg(node)).toBe(
    '<svg xmlns="http://www.w3.org/2000/svg" title="a &quot;b&quot; &lt;c&gt;">\n<text>x &lt; y &amp; z</text>\n</svg>',
  );
});

test('letters that XML forbids are replaced, lone surrogates too; others stay', () => {
  expect(escapeXml('a\u0000b\u001fc\ufffed')).toBe('a\uFFFDb\uFFFDc\uFFFDd');
  expect(escapeXml('\ud800x')).toBe('\uFFFDx');
  expect(escapeXml('Wänd 測 \u{1F9F1}\n')).toBe('Wänd 測 \u{1F9F1}\n');
});

test('law: escaped text holds no bare sign of XML and reads back as it was', () => {
  const back: Record<string, string> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"' };
  fc.assert(
    fc.property(fc.string({ unit: fc.constantFrom('<', '>', '&', '"', 'a', ';', 'ü', ' ') }), (text) => {
      const escaped = escapeXml(text);
      expect(escaped).not.toMatch(/[<>"]|&(?!(amp|lt|gt|quot);)/);
      expect(escaped.replace(/&\w+;/g, (sign) => back[sign]!)).toBe(text);
    }),
    { seed: 3 },
  );
});

test('numbers are rounded to 0.01 and never NaN', () => {
  expect([1.005, 2.675, -0.001, 1e-9, 12, 1e6 + 0.126].map(formatNumber)).toEqual([
    '1',
    '2.68',
    '0',
    '0',
    '12',
    '1000000.13',
  ]);
  expect(() => formatNumber(NaN)).toThrow('expected a finite number, got NaN');
  expect(() => toSvg(element('line', { x1: Infinity }))).toThrow('Infinity');
});

test('texts are listed in the order of drawing', () => {
  expect(
    listTexts(element('g', {}, element('text', {}, 'a'), element('g', {}, element('text', {}, 'b')))),
  ).toEqual(['a', 'b']);
});
