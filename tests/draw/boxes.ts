// Where the texts of a drawing lie, by the same metrics a PDF uses.
import type { Area } from '../../src/draw/room.ts';
import { textWidth } from '../../src/draw/text.ts';
import type { SvgNode } from '../../src/draw/tree.ts';

export interface TextBox extends Area {
  readonly text: string;
  readonly bold: boolean;
  readonly size: number;
}

/** What one text element says. */
export const textOf = ({ children }: SvgNode) =>
  children.filter((child) => typeof child === 'string').join('');

/** The area of every text of a drawing, from the foot of its figures to their top. */
export function listTextBoxes(node: SvgNode): TextBox[] {
  const inside = node.children.flatMap((child) => (typeof child === 'string' ? [] : listTextBoxes(child)));
  if (node.tag !== 'text') return inside;
  const text = textOf(node);
  const { x, y, 'font-size': size, 'text-anchor': anchor, transform } = node.attrs as Record<string, number>;
  const width = textWidth(text, size!);
  const before = { start: 0, middle: width / 2, end: width }[String(anchor)]!;
  const [high, low] = [0.72 * size!, 0];
  const box =
    transform === undefined
      ? { left: x! - before, right: x! - before + width, top: y! - high, bottom: y! + low }
      : { left: x! - high, right: x! + low, top: y! + before - width, bottom: y! + before };
  return [{ ...box, text, bold: node.attrs['font-weight'] === 'bold', size: size! }];
}

/** All elements of one tag in a drawing, in the order of drawing. */
export function listElements(node: SvgNode, tag: string): SvgNode[] {
  const inside = node.children.flatMap((child) =>
    typeof child === 'string' ? [] : listElements(child, tag),
  );
  return node.tag === tag ? [node, ...inside] : inside;
}
