import { unzlibSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { drawPlan } from '../../src/draw/plan.ts';
import { element, listTexts } from '../../src/draw/tree.ts';
import { toWinAnsi, writePlanPdf } from '../../src/file/pdf.ts';
import { roughPlan } from '../draw/walls.ts';

const { survey, solution, plan } = roughPlan();
const drawing = drawPlan({ survey, surface: solution.surface, plan }, { note: 'version 0.1, 14 March' });
const options = { title: 'East wall', createdAt: '2026-03-14T09:30:00Z' };

/** The page's content stream: found by its markers and inflated (ISO 32000-1, 7.3.8 and 7.4.4). */
function readContent(pdf: Uint8Array): string {
  const text = Buffer.from(pdf).toString('latin1');
  const start = text.indexOf('stream\n', text.indexOf('FlateDecode')) + 'stream\n'.length;
  return Buffer.from(unzlibSync(pdf.slice(start, text.indexOf('\nendstream', start)))).toString('latin1');
}

/** The strings that a content stream shows (operator Tj), escapes undone (7.3.4.2). */
const readShown = (content: string) =>
  [...content.matchAll(/\(((?:\\.|[^\\()])*)\) Tj/g)].map((match) => match[1]!.replace(/\\([()\\])/g, '$1'));

describe('the plan as PDF', () => {
  const pdf = writePlanPdf(drawing, options);
  const whole = Buffer.from(pdf).toString('latin1');
  const content = readContent(pdf);

  test('one page as large as the paper, in points', () => {
    const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(whole)!;
    expect(Number(box[1])).toBeCloseTo((297 / 25.4) * 72, 1);
    expect(Number(box[2])).toBeCloseTo((210 / 25.4) * 72, 1);
    expect(whole.match(/\/Type \/Page\b(?!s)/g)).toHaveLength(1);
  });

  test('every text of the drawing is real text, letter for letter', () => {
    // cp1252 and latin1 are the same for what the plan says
    expect(readShown(content).sort()).toEqual(listTexts(drawing).sort());
  });

  test("only the built-in fonts, in Windows' encoding, and no picture", () => {
    expect([...whole.matchAll(/\/BaseFont \/(\S+)/g)].map((match) => match[1]).sort()).toEqual([
      'Helvetica',
      'Helvetica-Bold',
    ]);
    expect(whole).toContain('/Encoding /WinAnsiEncoding');
    expect(whole).not.toContain('/Subtype /Image');
  });

  test('contours are filled by the even-odd rule and lines stroked', () => {
    expect(content.match(/^f\*$/gm)?.length).toBeGreaterThanOrEqual(4);
    expect(content.match(/^S$/gm)?.length).toBeGreaterThan(60);
  });

  test('the same drawing, title and time give the same bytes; another time gives others', () => {
    expect(Buffer.from(writePlanPdf(drawing, options)).equals(Buffer.from(pdf))).toBe(true);
    const later = writePlanPdf(drawing, { ...options, createdAt: '2026-03-14T09:31:00Z' });
    expect(Buffer.from(later).equals(Buffer.from(pdf))).toBe(false);
    expect(whole).toContain("(D:20260314093000+00'00')");
  });
});

describe('places on the page', () => {
  const page = (...children: Parameters<typeof element>[2][]) =>
    element('svg', { viewBox: '0 0 100 50' }, ...children);
  const perMm = 72 / 25.4;
  const numbersBefore = (content: string, operator: string) =>
    [...content.matchAll(new RegExp(`^(.*) ${operator}$`, 'gm'))].map((match) =>
      match[1]!.split(' ').map(Number),
    );

  test('a line from left top to right bottom, y turned over', () => {
    const line = element('line', { x1: 10, y1: 5, x2: 60, y2: 40, stroke: '#ff0000', 'stroke-width': 2 });
    const content = readContent(writePlanPdf(page(line), options));
    expect(numbersBefore(content, 'm')[0]!.map((at) => at / perMm)).toEqual(
      [10, 45].map((mm) => expect.closeTo(mm, 2) as number),
    );
    expect(numbersBefore(content, 'l')[0]!.map((at) => at / perMm)).toEqual(
      [60, 10].map((mm) => expect.closeTo(mm, 2) as number),
    );
    expect(numbersBefore(content, 'w').at(-1)![0]! / perMm).toBeCloseTo(2, 2);
  });

  test('relative and upright steps of a path', () => {
    const path = element('path', { d: 'M10,10h5v-4l-5,1Z', fill: '#00ff00' });
    const content = readContent(writePlanPdf(page(path), options));
    const corners = [...numbersBefore(content, 'm'), ...numbersBefore(content, 'l')].map(([x, y]) => [
      Math.round(x! / perMm),
      Math.round(50 - y! / perMm),
    ]);
    expect(corners).toEqual([[10, 10], [15, 10], [15, 6], [10, 7]]); // prettier-ignore
    expect(content).toMatch(/^h$/m);
  });

  test('what is painted in no colour is not painted', () => {
    const shape = element('rect', { x: 1, y: 1, width: 2, height: 2, fill: 'none' });
    expect(readContent(writePlanPdf(page(shape), options))).not.toMatch(/ re/);
  });

  test('what it does not know is a bug, not a hole in the drawing', () => {
    expect(() => writePlanPdf(page(element('image', {})), options)).toThrow('got <image>');
    expect(() => writePlanPdf(element('svg', {}), options)).toThrow('expected a viewBox');
    const slanted = element('text', { x: 1, y: 1, 'font-size': 3, transform: 'rotate(30)' }, 'a');
    expect(() => writePlanPdf(page(slanted), options)).toThrow('quarter turn');
  });
});

test('letters that the built-in fonts lack are replaced, the rest stays', () => {
  expect(toWinAnsi('Ściana – 12 ± 1')).toBe('Sciana – 12 ± 1');
  expect(toWinAnsi('e\u0301')).toBe('é');
  expect(toWinAnsi('測量')).toBe('??');
});
