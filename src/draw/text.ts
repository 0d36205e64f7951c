import { element, formatNumber, type SvgNode } from './tree.ts';

/** Families that look alike on screens; a PDF has the first one built in. No font is loaded. */
const family = 'Helvetica, Arial, Roboto, "Liberation Sans", sans-serif';

// Advance widths of Helvetica from space to tilde, in 1/1000 em (Adobe Core 14 AFM, Helvetica.afm; from memory, checked
// against jsPDF's own table in tests/draw/text.test.ts).
const advances = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
  556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
  500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
  556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
  278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

/**
 * Width of a text set in Helvetica of the given size, same unit as `size`; letters beyond ASCII count as a wide one.
 * @example textWidth('12.5', 10) // 19.46
 */
export function textWidth(text: string, size: number): number {
  let thousandths = 0;
  for (const letter of text) thousandths += advances[letter.codePointAt(0)! - 32] ?? 600;
  return (thousandths * size) / 1000;
}

/** How much wider other sans-serif faces of screens run than Helvetica, at most. */
const widestFace = 1.15;

/** Room (width) that a text may need in whatever sans-serif face a screen has. */
export function textRoom(text: string, size: number): number {
  return widestFace * textWidth(text, size);
}

// Windows-1252 beyond Latin-1: what a PDF's built-in fonts can show (ISO 32000-1, annex D.2, WinAnsiEncoding).
const extras = '€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ';

/**
 * Whether a PDF's built-in fonts can show every letter of the text.
 * @example isWinAnsi('12.5 ± 0.7 mm, 2 × 3') // true
 * @example isWinAnsi('a \u2192 b') // false
 */
export function isWinAnsi(text: string): boolean {
  return [...text].every((letter) => /[\x20-\x7e\xa0-\xff]/.test(letter) || extras.includes(letter));
}

export interface LabelStyle {
  readonly size: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  readonly fill: string;
  /** Read from the right: turned a quarter against the clock. */
  readonly turned?: boolean;
}

/**
 * A text whose letters stand in the middle of height `y`. The baseline is placed by 0.35 em, for PDF writers ignore
 * baseline attributes.
 */
export function label(text: string, x: number, y: number, style: LabelStyle): SvgNode {
  const down = 0.35 * style.size;
  const x0 = style.turned ? x + down : x;
  const y0 = style.turned ? y : y + down;
  return element(
    'text',
    {
      x: x0,
      y: y0,
      transform: style.turned ? `rotate(-90 ${formatNumber(x0)} ${formatNumber(y0)})` : undefined,
      'font-family': family,
      'font-size': style.size,
      'font-weight': style.bold ? 'bold' : undefined,
      'text-anchor': style.anchor ?? 'start',
      fill: style.fill,
    },
    text,
  );
}

/**
 * A text broken into lines no wider than `width` where words allow it.
 * @example wrapText('one two three', 45, 10) // ['one two', 'three']
 */
export function wrapText(text: string, width: number, size: number): string[] {
  return text.split(' ').reduce<string[]>((lines, word) => {
    const last = lines.at(-1);
    if (last === undefined) return [word];
    const longer = `${last} ${word}`;
    return textRoom(longer, size) <= width ? [...lines.slice(0, -1), longer] : [...lines, word];
  }, []);
}
