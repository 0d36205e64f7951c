import { closeMm } from './pieceKind.ts';

/** One of several that lie side by side: its size, and at which end of the row it would like to be. */
export interface RowMember {
  readonly sizeMm: number;
  /** `either` = at an end, whichever; null = anywhere. */
  readonly end: 'left' | 'right' | 'either' | null;
}

/** Where the members of a row start (mm, in their own order), and the gap that is left, if any. */
export interface Row {
  readonly starts: readonly number[];
  readonly gap: { readonly fromMm: number; readonly sizeMm: number } | null;
}

/**
 * Lays members side by side in a row of `roomMm`: of those that want an end the first two get one, by the side they like;
 * what room is left is one gap, at an end if that can be.
 * @example arrangeRow([{ sizeMm: 300, end: null }, { sizeMm: 500, end: 'right' }], 1200) // { starts: [400, 700], gap: { fromMm: 0, sizeMm: 400 } }
 */
export function arrangeRow(members: readonly RowMember[], roomMm: number): Row {
  const [a, b] = members.flatMap(({ end }, k) => (end === null ? [] : [k]));
  const endOf = (k: number) => members[k]!.end;
  let first: number | undefined = a;
  let last: number | undefined = b;
  if (a !== undefined && b === undefined && endOf(a) === 'right') [first, last] = [undefined, a];
  if (a !== undefined && b !== undefined && (endOf(a) === 'right' || endOf(b) === 'left'))
    [first, last] = endOf(a) === 'left' || endOf(b) === 'right' ? [a, b] : [b, a];
  const inner = [...members.keys()].filter((k) => k !== first && k !== last);
  const restMm = roomMm - members.reduce((sum, { sizeMm }) => sum + sizeMm, 0);
  const hasGap = restMm > closeMm;
  const starts = members.map(() => 0);
  let at = 0;
  let gapAt = 0;
  const leaveGap = () => {
    gapAt = at;
    if (hasGap) at += restMm;
  };
  const put = (k: number) => {
    starts[k] = at;
    at += members[k]!.sizeMm;
  };
  if (first === undefined && last !== undefined) leaveGap();
  if (first !== undefined) put(first);
  inner.forEach(put);
  if (first !== undefined || last === undefined) leaveGap();
  if (last !== undefined) put(last);
  return { starts, gap: hasGap ? { fromMm: gapAt, sizeMm: restMm } : null };
}
