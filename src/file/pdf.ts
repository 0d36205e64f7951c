import { jsPDF } from 'jspdf';
import { isWinAnsi } from '../draw/text.ts';
import { toSvg, type SvgNode } from '../draw/tree.ts';
import { drawPath } from './pdfPath.ts';

export interface PdfOptions {
  readonly title: string;
  /** When it is made, as "2026-03-14T09:30:00Z"; the same drawing, title and time give the same bytes. */
  readonly createdAt: string;
}

const MM_PER_POINT = 25.4 / 72;

/** Letters without a decomposition, and signs, as the built-in fonts can write them. */
const standIns: Readonly<Record<string, string>> = {
  ...{ ł: 'l', Ł: 'L', đ: 'd', Đ: 'D', ı: 'i', ħ: 'h' },
  ...{ '\u2212': '-', '\u2264': '<=', '\u2265': '>=', '\u2192': '->', '\u2033': '"', '\u2032': "'" },
};

/**
 * The text with letters that a PDF's built-in fonts cannot show replaced: by what comes near where there is such, else "?".
 * @example toWinAnsi('Wa\u0142 \u2265 \u0144, caf\u00e9 \u6e2c') // 'Wal >= n, caf\u00e9 ?'
 */
export function toWinAnsi(text: string): string {
  return [...text.normalize('NFC')]
    .map((letter) => {
      if (isWinAnsi(letter)) return letter;
      const plain = letter.normalize('NFD').replace(/\p{M}/gu, '');
      return standIns[letter] ?? (plain !== '' && isWinAnsi(plain) ? plain : '?');
    })
    .join('');
}

/** Attributes handed down from a group to what is in it. */
type Style = Readonly<Record<string, string | number>>;
const handedDown = ['fill', 'stroke', 'stroke-width', 'stroke-dasharray', 'stroke-linejoin', 'fill-rule'];

function styleOf(attrs: SvgNode['attrs'], above: Style): Style {
  return {
    ...above,
    ...Object.fromEntries(Object.entries(attrs).filter(([name]) => handedDown.includes(name))),
  };
}

/** SVG's painting: fill is black where nothing is said, stroke is none. */
function setPaint(doc: jsPDF, style: Style): { readonly fill: boolean; readonly stroke: boolean } {
  const fill = String(style.fill ?? '#000000');
  const stroke = String(style.stroke ?? 'none');
  if (fill !== 'none') doc.setFillColor(fill);
  if (stroke !== 'none') {
    doc.setDrawColor(stroke);
    doc.setLineWidth(Number(style['stroke-width'] ?? 1));
    doc.setLineDashPattern(
      String(style['stroke-dasharray'] ?? '')
        .split(/[ ,]+/)
        .filter(Boolean)
        .map(Number),
      0,
    );
    doc.setLineJoin(String(style['stroke-linejoin'] ?? 'miter'));
  }
  return { fill: fill !== 'none', stroke: stroke !== 'none' };
}

const paintLetters = ({ fill, stroke }: { fill: boolean; stroke: boolean }) =>
  fill ? (stroke ? 'FD' : 'F') : stroke ? 'S' : null;

function drawText(doc: jsPDF, { attrs, children }: SvgNode, style: Style): void {
  const text = toWinAnsi(children.filter((child) => typeof child === 'string').join(''));
  const bold = attrs['font-weight'] === 'bold';
  doc.setFont('helvetica', bold ? 'bold' : 'normal');
  doc.setFontSize(Number(attrs['font-size']) / MM_PER_POINT);
  doc.setTextColor(String(style.fill ?? '#000000'));
  const shares: Record<string, number> = { start: 0, middle: 0.5, end: 1 };
  const back = shares[String(attrs['text-anchor'] ?? 'start')]! * doc.getTextWidth(text);
  const [x, y] = [Number(attrs.x), Number(attrs.y)];
  // the only turn in our drawings: a quarter against the clock about the text's own point
  if (attrs.transform === undefined) doc.text(text, x - back, y);
  else if (String(attrs.transform).startsWith('rotate(-90 ')) doc.text(text, x, y + back, { angle: 90 });
  else throw new Error(`pdf: expected a quarter turn, got ${attrs.transform}`);
}

const drawers: Readonly<Record<string, (doc: jsPDF, node: SvgNode, style: Style) => void>> = {
  rect(doc, { attrs }, style) {
    const letters = paintLetters(setPaint(doc, style));
    const [x, y, width, height] = [attrs.x, attrs.y, attrs.width, attrs.height].map(Number) as [
      number,
      number,
      number,
      number,
    ];
    if (letters === null) return;
    if (attrs.rx === undefined) doc.rect(x, y, width, height, letters);
    else doc.roundedRect(x, y, width, height, Number(attrs.rx), Number(attrs.rx), letters);
  },
  line(doc, { attrs }, style) {
    if (setPaint(doc, style).stroke)
      doc.line(Number(attrs.x1), Number(attrs.y1), Number(attrs.x2), Number(attrs.y2));
  },
  circle(doc, { attrs }, style) {
    const letters = paintLetters(setPaint(doc, style));
    if (letters !== null) doc.circle(Number(attrs.cx), Number(attrs.cy), Number(attrs.r), letters);
  },
  path(doc, { attrs }, style) {
    const paint = setPaint(doc, style);
    if (!paint.fill && !paint.stroke) return;
    if (!drawPath(doc, String(attrs.d))) return;
    const evenOdd = style['fill-rule'] === 'evenodd';
    if (paint.fill && paint.stroke) void (evenOdd ? doc.fillStrokeEvenOdd() : doc.fillStroke());
    else if (paint.fill) void (evenOdd ? doc.fillEvenOdd() : doc.fill());
    else doc.stroke();
  },
  text: drawText,
};

function drawNode(doc: jsPDF, node: SvgNode, above: Style): void {
  const style = styleOf(node.attrs, above);
  if (node.tag === 'g' || node.tag === 'svg') {
    for (const child of node.children) if (typeof child !== 'string') drawNode(doc, child, style);
    return;
  }
  const draw = drawers[node.tag];
  if (!draw) throw new Error(`pdf: expected a shape or text, got <${node.tag}>`);
  draw(doc, node, style);
}

/** 32 hexadecimal digits that depend on nothing but the text (FNV-1a, four times over). */
function digestText(text: string): string {
  return [0, 1, 2, 3]
    .map((round) => {
      let hash = 0x811c9dc5 ^ round;
      for (let k = 0; k < text.length; k++) hash = Math.imul(hash ^ text.charCodeAt(k), 0x01000193);
      return (hash >>> 0).toString(16).padStart(8, '0');
    })
    .join('')
    .toUpperCase();
}

/**
 * A drawing of one sheet (its unit is mm of paper) as a PDF: vectors and real text in the built-in Helvetica, the page as
 * large as the drawing. Made from the drawing itself, not from the page's SVG: it needs no DOM, runs in a worker and in
 * Node alike, and cannot differ from what `toSvg` shows by what a browser makes of it.
 */
export function writePlanPdf(drawing: SvgNode, { title, createdAt }: PdfOptions): Uint8Array {
  const [, , width, height] = String(drawing.attrs.viewBox).split(' ').map(Number);
  if (!width || !height) throw new Error(`pdf: expected a viewBox, got ${drawing.attrs.viewBox}`);
  const doc = new jsPDF({
    unit: 'mm',
    format: [width, height],
    orientation: width > height ? 'landscape' : 'portrait',
    compress: true,
    putOnlyUsedFonts: true,
  });
  doc.setCreationDate(`D:${createdAt.replace(/\D/g, '').slice(0, 14)}+00'00'`);
  doc.setFileId(digestText(toSvg(drawing) + title + createdAt));
  doc.setProperties({ title: toWinAnsi(title), creator: 'Bedplane' });
  drawNode(doc, drawing, {});
  return new Uint8Array(doc.output('arraybuffer'));
}
