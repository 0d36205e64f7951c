import { lab } from 'd3';
import type { SvgNode } from './tree.ts';

/**
 * Lightness (CIE L*) on the light sheet and what it becomes on the dark one. It falls all the way, so that bands of a wash keep
 * their order and what was dark on light is light on dark; steepest next to the sheet, where light marks lie close together.
 */
const TURN: readonly (readonly [light: number, dark: number])[] = [
  [0, 96],
  [15, 92],
  [38, 75],
  [45, 68],
  [56, 56],
  [61, 43],
  [86, 25],
  [94, 19],
  [97, 15],
  [98.6, 12.5],
  [100, 10],
];

function turnLightness(light: number): number {
  const after = TURN.findIndex(([from]) => light <= from);
  if (after <= 0) return after === 0 ? TURN[0]![1] : TURN.at(-1)![1];
  const [[from, to], [nextFrom, nextTo]] = [TURN[after - 1]!, TURN[after]!];
  return to + ((light - from) / (nextFrom - from)) * (nextTo - to);
}

/**
 * A drawing's colour as it is on a dark screen: lightness turned, hue kept. What is no colour comes back as it is.
 * @example darkColour('none') // 'none'
 * @example darkColour('#23262b') > darkColour('#555a61') // true
 */
export function darkColour(colour: string): string {
  const from = lab(colour);
  if (Number.isNaN(from.l)) return colour;
  // a tint of the sheet is faint: it needs less of its colour in the dark than ink does
  const chroma = from.l > 90 && Math.hypot(from.a, from.b) < 8 ? 0.35 : 1;
  return lab(turnLightness(from.l), chroma * from.a, chroma * from.b).formatHex();
}

/** A drawing for a dark screen: the same tree with each fill and stroke turned, and the words that speak of a wash. Exports and prints do not use it. */
export function darken({ tag, attrs, children }: SvgNode): SvgNode {
  const turned = Object.entries(attrs).map(([name, value]) => [
    name,
    (name === 'fill' || name === 'stroke') && typeof value === 'string' ? darkColour(value) : value,
  ]);
  return {
    tag,
    attrs: Object.fromEntries(turned) as SvgNode['attrs'],
    children: children.map((child) =>
      typeof child === 'string' ? child.replace('darker =', 'lighter =') : darken(child),
    ),
  };
}
