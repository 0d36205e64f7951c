import type { Tool, Work } from './work.svelte.ts';

/** A tool that sets a line right: its word, its key on the picture, its sign on a field of 24 by 24, and what to do with it. */
export interface LineTool {
  readonly tool: Extract<Tool, 'pick' | 'push' | 'add' | 'erase' | 'gap' | 'pin'>;
  readonly word: string;
  readonly key: string;
  readonly sign: string;
  readonly hint: string;
}

/** The tools in the order of their row and keys. */
export const LINE_TOOLS: readonly LineTool[] = [
  {
    tool: 'pick',
    word: 'Move',
    key: '1',
    sign: 'M9 12A3 3 0 1 0 15 12A3 3 0 1 0 9 12M12 2V6M12 18V22M2 12H6M18 12H22',
    hint: 'Tap a point of the line or of the chart to pick it, then drag it; the magnifier shows the pixels.',
  },
  {
    tool: 'push',
    word: 'Push',
    key: '2',
    sign: 'M1 20C7 20 8 11 12 11S17 20 23 20M12 8V2M8 5.5 12 2 16 5.5',
    hint: 'Press on the line and drag across it: its neighbours follow, the less the further off.',
  },
  {
    tool: 'add',
    word: 'Add',
    key: '3',
    sign: 'M2 18H9M15 18H22M10 16H14V20H10ZM12 2V12M7 7H17',
    hint: 'Press where the line passes, slide to the very spot, let go.',
  },
  {
    tool: 'erase',
    word: 'Erase',
    key: '4',
    sign: 'M6 12A6 6 0 1 0 18 12A6 6 0 1 0 6 12M1 12H3M21 12H23M9 9 15 15M15 9 9 15',
    hint: 'Drag the ring over points to take them away; they stay away when the line is looked for again.',
  },
  {
    tool: 'gap',
    word: 'Gap',
    key: '5',
    sign: 'M1 12H7M17 12H23M7 6V18M17 6V18',
    hint: 'Drag along the line over the stretch where there is none: a pipe, a shadow, an opening.',
  },
  {
    tool: 'pin',
    word: 'Pin',
    key: '6',
    sign: 'M12 10 18 16 12 22 6 16ZM12 10V2',
    hint: 'Press where the line passes, slide to the very spot, let go: it is looked for through that place.',
  },
];

/** The key that goes to the suspects, and their sign. */
export const SUSPECTS_KEY = '7';
export const SUSPECTS_SIGN = 'M4 12A8 8 0 1 0 20 12A8 8 0 1 0 4 12M12 8V13M12 15.5V16.5';

/** Takes up a tool for the line, and shows its panel; the one that is taken stays so. */
export function takeLineTool(work: Work, tool: LineTool['tool']): void {
  if (!work.line) return;
  work.panel = 'points';
  if (work.tool !== tool) work.takeTool(tool);
}
