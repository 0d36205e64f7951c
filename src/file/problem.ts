import type { z } from 'zod';
import type { FieldProblem } from './laws.ts';

/**
 * A place in a survey file as people write it.
 * @example writePath(['photos', 2, 'marks', 0, 'u']) // 'photos[2].marks[0].u'
 */
export function writePath(path: readonly PropertyKey[]): string {
  return path
    .map((key, index) => (typeof key === 'number' ? `[${key}]` : `${index > 0 ? '.' : ''}${String(key)}`))
    .join('');
}

const kindNames: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  array: 'a list',
  object: 'a group of fields',
  boolean: 'true or false',
  null: 'null',
};

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return kindNames.array!;
  return kindNames[typeof value] ?? typeof value;
}

function valueAt(root: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce((value, key) => (value as Record<PropertyKey, unknown> | null | undefined)?.[key], root);
}

function sayIssue(issue: z.core.$ZodIssue, value: unknown): string {
  if (value === undefined) return 'is missing';
  if (issue.code === 'invalid_type') {
    if (typeof value === 'number' && !Number.isFinite(value)) return 'is not a finite number';
    return `must be ${kindNames[issue.expected] ?? issue.expected}, is ${kindOf(value)}`;
  }
  if (issue.code === 'invalid_value') return `must be ${issue.values.map(String).join(' or ')}`;
  if (issue.code === 'too_small') {
    if (issue.origin === 'string') return 'must not be empty';
    return `must be ${issue.inclusive ? 'at least' : 'more than'} ${issue.minimum}`;
  }
  if (issue.code === 'too_big') return `must be at most ${issue.maximum}`;
  return issue.message;
}

/** The first issue that zod found in `root`, in plain words. */
export function describeIssue(issues: readonly z.core.$ZodIssue[], root: unknown): FieldProblem {
  const [issue] = issues;
  if (!issue) throw new Error('describe issue: expected at least one, got none');
  return { path: writePath(issue.path), problem: sayIssue(issue, valueAt(root, issue.path)) };
}
