/**
 * A value without some of its fields.
 * @example withoutFields({ a: 1, b: 2 }, 'a') // { b: 2 }
 */
export function withoutFields<T extends object, K extends keyof T>(of: T, ...names: K[]): Omit<T, K> {
  const left = Object.entries(of).filter(([name]) => !(names as PropertyKey[]).includes(name));
  return Object.fromEntries(left) as Omit<T, K>;
}

/**
 * A value with only those fields that are not undefined.
 * @example presentFields({ a: 1, b: undefined }) // { a: 1 }
 */
export function presentFields<T extends object>(of: T): Partial<T> {
  const present = Object.entries(of).filter(([, value]) => value !== undefined);
  return Object.fromEntries(present) as unknown as Partial<T>;
}
