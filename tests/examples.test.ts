import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

// Runs every `@example expression // value` of src/core, src/draw, src/vision and src/file.
const root = fileURLToPath(new URL('..', import.meta.url));
const modules = import.meta.glob<Record<string, unknown>>('../src/{core,draw,vision,file,app}/**/*.ts');

interface Example {
  readonly path: string;
  readonly expression: string;
  readonly value: string;
}

const examples: Example[] = Object.keys(modules).flatMap((key) => {
  const path = key.replace('../', '');
  const text = readFileSync(resolve(root, path), 'utf8');
  return [...text.matchAll(/@example (.+?) \/\/ (.+?)\s*(?:\*\/|$)/gm)].map((match) => ({
    path,
    expression: match[1]!,
    value: match[2]!,
  }));
});

const evaluate = (code: string, scope: Record<string, unknown>): unknown => {
  const names = Object.keys(scope).filter((name) => name !== 'default');
  const values = names.map((name) => scope[name]);
  // eslint-disable-next-line @typescript-eslint/no-implied-eval, @typescript-eslint/no-unsafe-call -- examples are code
  return new Function(...names, `return (${code})`)(...values);
};

/** Numbers compare to 1e-9 of their size, typed arrays as arrays. */
const rounded = (value: unknown): unknown => {
  if (typeof value === 'number') return Number.isFinite(value) ? Number(value.toPrecision(9)) : value;
  if (ArrayBuffer.isView(value)) return Array.from(value as unknown as ArrayLike<number>, rounded);
  if (Array.isArray(value)) return value.map(rounded);
  if (value !== null && typeof value === 'object')
    return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, rounded(item)]));
  return value;
};

test('there are examples to run', () => {
  expect(examples.length).toBeGreaterThan(10);
  expect(readdirSync(resolve(root, 'src/core')).length).toBeGreaterThan(3);
});

test.each(examples)('$path: $expression', async ({ path, expression, value }) => {
  const scope = await modules[`../${path}`]!();
  expect(rounded(evaluate(expression, scope))).toEqual(rounded(evaluate(value, {})));
});
