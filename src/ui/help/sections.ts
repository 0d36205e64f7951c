import { measuring } from './measuring.ts';
import { photographs } from './photographs.ts';
import type { FirstStep } from './firstSteps.ts';
import { results } from './results.ts';

/** A paragraph, a list, or a table of two columns. */
export type HelpBlock =
  string | { readonly list: readonly string[] } | { readonly table: readonly (readonly [string, string])[] };

/** One section of the help. `id` is its address after `#help/`. */
export interface HelpSection {
  readonly id: string;
  readonly title: string;
  readonly picture?: FirstStep['picture'];
  readonly blocks: readonly HelpBlock[];
}

/** The help in the order of the work. */
export const helpSections: readonly HelpSection[] = [...measuring, ...photographs, ...results];
