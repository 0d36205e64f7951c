/** A drawing as a tree: one SVG element, its attributes (styles too; no `style`, no classes) and what stands in it. */
export interface SvgNode {
  readonly tag: string;
  readonly attrs: Readonly<Record<string, string | number>>;
  readonly children: readonly (SvgNode | string)[];
}

/**
 * One element of a drawing; an attribute that is undefined is left out.
 * @example element('line', { x1: 0, x2: 5, fill: undefined }).attrs // { x1: 0, x2: 5 }
 */
export function element(
  tag: string,
  attrs: Readonly<Record<string, string | number | undefined>> = {},
  ...children: readonly (SvgNode | string)[]
): SvgNode {
  const given = Object.entries(attrs).filter(
    (entry): entry is [string, string | number] => entry[1] !== undefined,
  );
  return { tag, attrs: Object.fromEntries(given), children };
}

/**
 * A number as drawings write it: to 0.01, no trailing zeros, no "-0".
 * @example formatNumber(-0.004) // '0'
 * @example formatNumber(12.3456) // '12.35'
 */
export function formatNumber(value: number): string {
  if (!Number.isFinite(value)) throw new Error(`drawing: expected a finite number, got ${value}`);
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}

const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/**
 * Text as it may stand in XML: the four signs escaped, characters that XML 1.0 forbids replaced by U+FFFD.
 * @example escapeXml('a < "b"') // 'a &lt; &quot;b&quot;'
 */
export function escapeXml(text: string): string {
  return (
    text
      // XML 1.0 (Fifth Edition), production [2] Char
      .replace(/[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu, '\uFFFD')
      .replace(/[&<>"]/g, (sign) => entities[sign]!)
  );
}

function writeNode({ tag, attrs, children }: SvgNode): string {
  const written = Object.entries(attrs)
    .map(
      ([name, value]) => ` ${name}="${typeof value === 'number' ? formatNumber(value) : escapeXml(value)}"`,
    )
    .join('');
  if (children.length === 0) return `<${tag}${written}/>`;
  const isText = children.some((child) => typeof child === 'string');
  const inside = children.map((child) => (typeof child === 'string' ? escapeXml(child) : writeNode(child)));
  return isText
    ? `<${tag}${written}>${inside.join('')}</${tag}>`
    : `<${tag}${written}>\n${inside.join('\n')}\n</${tag}>`;
}

/**
 * The SVG text of a drawing: what the screen shows, the export holds and the golden test compares.
 * @example toSvg(element('svg', { viewBox: '0 0 1 1' })) // '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"/>'
 */
export function toSvg(root: SvgNode): string {
  return writeNode({ ...root, attrs: { xmlns: 'http://www.w3.org/2000/svg', ...root.attrs } });
}

/** Every text in a drawing, in the order of drawing. */
export function listTexts(node: SvgNode): string[] {
  return node.children.flatMap((child) => (typeof child === 'string' ? [child] : listTexts(child)));
}
