/** What a key in a table of fields asks for: rows and columns in the order of the page. */
export type TableMove =
  | { readonly kind: 'go'; readonly to: HTMLInputElement }
  /** The row at the end is to be added. */
  | { readonly kind: 'add' }
  | { readonly kind: 'stay' };

const inputsOf = (row: HTMLElement) => [...row.querySelectorAll<HTMLInputElement>('td[data-column] input')];

/** The rows of fields of a table, in order; the one to be added last. */
const rowsOf = (table: HTMLElement) =>
  [...table.querySelectorAll<HTMLElement>('tr')].filter((row) => inputsOf(row).length > 0);

const empty = (inputs: readonly HTMLInputElement[], needed: number) =>
  inputs.slice(0, needed).find(({ value }) => value.trim() === '');

/**
 * Enter: to the first empty field of the next row, else to the same column; in the last row to its first empty field, or it is to be
 * added. Tab: from the last field of the last row, when all `needed` fields are there, it is to be added. Arrows: the row above or below.
 */
export function moveInTable(
  table: HTMLElement,
  from: HTMLInputElement,
  key: string,
  needed: number,
): TableMove | null {
  const rows = rowsOf(table);
  const at = rows.findIndex((row) => row.contains(from));
  if (at < 0) return null;
  const own = inputsOf(rows[at]!);
  const column = own.indexOf(from);
  if (column < 0) return null;
  const isLast = at === rows.length - 1;
  if (key === 'ArrowUp' || key === 'ArrowDown') {
    const row = rows[at + (key === 'ArrowUp' ? -1 : 1)];
    return row ? { kind: 'go', to: inputsOf(row)[column] ?? inputsOf(row)[0]! } : { kind: 'stay' };
  }
  if (key === 'Enter' && !isLast) {
    const next = inputsOf(rows[at + 1]!);
    return { kind: 'go', to: empty(next, needed) ?? next[column] ?? next[0]! };
  }
  const open = empty(own, needed);
  if (key === 'Enter') return open ? { kind: 'go', to: open } : { kind: 'add' };
  return key === 'Tab' && !open && column === own.length - 1 ? { kind: 'add' } : null;
}
