import { jsPDF } from 'jspdf';
import { expect, test } from 'vitest';
import { isWinAnsi, label, textRoom, textWidth, wrapText } from '../../src/draw/text.ts';

// jsPDF carries Helvetica's metrics to about 0.01 em
test("widths agree with jsPDF's table of Helvetica, letter by letter", () => {
  const doc = new jsPDF();
  doc.setFont('helvetica', 'normal');
  for (let code = 32; code <= 126; code++) {
    const letter = String.fromCharCode(code);
    expect(Math.abs(textWidth(letter, 1) - doc.getStringUnitWidth(letter)), letter).toBeLessThan(0.0075);
  }
});

test('room is somewhat more than the width, for the wider faces of screens', () => {
  expect(textRoom('1200 mm', 10) / textWidth('1200 mm', 10)).toBeCloseTo(1.15, 9);
});

test("the built-in fonts' letters end at Windows-1252", () => {
  expect(isWinAnsi('±×·°²½–—…€ÄøßŽ')).toBe(true);
  for (const letter of ['→', '≥', '−', 'σ', 'ł', '測', '\u0081', '\n'])
    expect(isWinAnsi(letter), letter).toBe(false);
});

test('letters stand about the middle of their height, turned or not', () => {
  const style = { size: 10, fill: '#000000' };
  expect(label('a', 5, 20, style).attrs).toMatchObject({ x: 5, y: 23.5, 'text-anchor': 'start' });
  expect(label('a', 5, 20, { ...style, turned: true }).attrs).toMatchObject({
    x: 8.5,
    y: 20,
    transform: 'rotate(-90 8.5 20)',
  });
});

test('wrapped lines keep their words and their width', () => {
  const text = 'Back of boards: 52.4 mm from laser plane at the left end';
  const lines = wrapText(text, 120, 10);
  expect(lines.join(' ')).toBe(text);
  expect(lines.length).toBeGreaterThan(2);
  for (const line of lines) expect(textRoom(line, 10)).toBeLessThanOrEqual(120);
  expect(wrapText('unbreakable', 10, 10)).toEqual(['unbreakable']);
});
