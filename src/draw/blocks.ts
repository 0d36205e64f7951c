import { look, type Pen } from './look.ts';
import { label, wrapText } from './text.ts';
import { element, type SvgNode } from './tree.ts';

/** One row beside the drawing: a text, and what it explains before it. */
export interface Row {
  readonly text: string;
  readonly bold?: boolean;
  readonly needsUser?: boolean;
  /** Draws the sample in the middle of (x, y), `width` wide and a row high. */
  readonly sample?: (x: number, y: number, width: number) => SvgNode;
}

/** Rows that belong together and stay in one column. */
export type Block = readonly Row[];

/** Something drawn, and how high it came out. */
export interface Drawn {
  readonly node: SvgNode;
  readonly height: number;
}

const rowStep = 1.45;
const sampleWidth = 2.4;

/** Sets a block's rows under each other from (x, y), texts wrapped to the width. */
export function setBlock(block: Block, x: number, y: number, width: number, pen: Pen): Drawn {
  const { font } = pen;
  const nodes: SvgNode[] = [];
  let at = y;
  for (const { text, bold = false, needsUser = false, sample } of block) {
    const indent = sample ? (sampleWidth + 0.6) * font : 0;
    if (sample)
      nodes.push(sample(x + (sampleWidth * font) / 2, at + 0.5 * rowStep * font, sampleWidth * font));
    const fill = needsUser ? look.signal : bold ? look.pencil : look.graphite;
    for (const line of wrapText(text, width - indent, font)) {
      nodes.push(label(line, x + indent, at + 0.5 * rowStep * font, { size: font, bold, fill }));
      at += rowStep * font;
    }
  }
  return { node: element('g', {}, ...nodes), height: at - y };
}

/** Height of a block set to that width. */
const measureBlock = (block: Block, width: number, pen: Pen) => setBlock(block, 0, 0, width, pen).height;

/** Sets blocks in columns: in one column in their order, in more the highest first, each where it is shortest so far. */
export function flowBlocks(
  blocks: readonly Block[],
  left: number,
  top: number,
  width: number,
  columns: number,
  pen: Pen,
): Drawn {
  const gutter = 1.5 * pen.font;
  const columnWidth = (width - gutter * (columns - 1)) / columns;
  const bottoms = new Array<number>(columns).fill(top);
  const byHeight = (a: Block, b: Block) =>
    measureBlock(b, columnWidth, pen) - measureBlock(a, columnWidth, pen);
  const ordered = columns > 1 ? [...blocks].sort(byHeight) : blocks;
  const nodes = ordered.map((block) => {
    const column = bottoms.indexOf(Math.min(...bottoms));
    const x = left + column * (columnWidth + gutter);
    const { node, height } = setBlock(block, x, bottoms[column]!, columnWidth, pen);
    bottoms[column]! += height + 0.9 * pen.font;
    return node;
  });
  return { node: element('g', {}, ...nodes), height: Math.max(...bottoms) - top };
}
