const two = (number: number) => String(number).padStart(2, '0');

/** The clock time of a moment (ms since 1970), as on the wall clock of this device: "14:05". */
export function clockTime(atMs: number): string {
  const date = new Date(atMs);
  return `${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** Day and clock time of a moment (ms since 1970), with the month in letters since its order differs between countries. */
export function dayTime(atMs: number): string {
  const day = new Date(atMs).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
  return `${day}, ${clockTime(atMs)}`;
}
