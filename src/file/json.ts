/** Longest group or list that is written on one line, characters. */
const lineLength = 110;

type Fields = Readonly<Record<string, unknown>>;
const isGroup = (value: unknown): value is object => typeof value === 'object' && value !== null;

function sortKeys(group: Fields, rank: ReadonlyMap<string, number>): [string, unknown][] {
  const place = (key: string) => rank.get(key) ?? Infinity;
  return Object.entries(group)
    .filter(([, value]) => value !== undefined)
    .map(([key, value], index) => ({ key, value, index }))
    .sort((a, b) => (place(a.key) === place(b.key) ? a.index - b.index : place(a.key) - place(b.key)))
    .map(({ key, value }) => [key, value]);
}

/** Items set side by side, as many to a line as fit. */
function fillLines(items: readonly string[], width: number): string[] {
  const lines: string[] = [];
  let last = '';
  for (const item of items) {
    if (last !== '' && last.length + item.length + 2 > width) {
      lines.push(last);
      last = '';
    }
    last += last === '' ? item : `, ${item}`;
  }
  return [...lines, last];
}

function writeValue(value: unknown, indent: string, rank: ReadonlyMap<string, number>): string {
  if (!isGroup(value)) return JSON.stringify(value) ?? 'null';
  const isList = Array.isArray(value) || ArrayBuffer.isView(value);
  const items: [string, unknown][] = isList
    ? Array.from(value as unknown as ArrayLike<unknown>, (item) => ['', item])
    : sortKeys(value as Fields, rank);
  const [open, close] = isList ? ['[', ']'] : ['{', '}'];
  if (items.length === 0) return open + close;
  const inner = `${indent}  `;
  const written = items.map(
    ([key, item]) => (isList ? '' : `${JSON.stringify(key)}: `) + writeValue(item, inner, rank),
  );
  const isFlat = items.every(([, item]) => !isGroup(item));
  const padding = isList ? '' : ' ';
  const oneLine = `${open}${padding}${written.join(', ')}${padding}${close}`;
  if (isFlat && indent.length + oneLine.length <= lineLength) return oneLine;
  const lines = isFlat && isList ? fillLines(written, lineLength - inner.length) : written;
  return `${open}\n${lines.map((line) => inner + line).join(',\n')}\n${indent}${close}`;
}

/**
 * JSON text of a value: 2 spaces, keys of every group in the order of `keyOrder` and then as they come, a group or list of
 * plain values on one line where it fits, a long list of them in filled lines, NaN and infinities as null; ends in a line feed.
 * @example writeJson({ b: 1, a: [2, NaN] }, ['a']) // '{\n  "a": [2, null],\n  "b": 1\n}\n'
 */
export function writeJson(value: unknown, keyOrder: readonly string[] = []): string {
  const rank = new Map(keyOrder.map((key, index) => [key, index]));
  return `${writeValue(value, '', rank)}\n`;
}
