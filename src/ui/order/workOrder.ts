import type { Batch, WorkCode, WorkStage, WorkStep } from '../../core/liningPlan.ts';

/** What the stages of the work are called on the page. */
export const stageNames: { readonly [S in WorkStage]: string } = {
  prepare: 'Prepare',
  prime: 'Prime',
  set_out: 'Set out',
  screws: 'Gauge screws',
  packing: 'Packing strips',
  dry_fit: 'Cut and try dry',
  fix: 'Mix and fix',
  wait: 'Wait',
  seal: 'Seal the gaps',
  secondary: 'Second fixing',
  joints: 'Fill the joints',
  clean: 'Clean up',
};

/** Steps that follow each other in one stage, with the number of the first on the page. */
export interface StageSteps {
  readonly stage: WorkStage;
  readonly first: number;
  readonly steps: readonly WorkStep[];
}

/** The steps under the names of their stages, in the order of the work; a stage that comes again stands again. */
export function groupSteps(work: readonly WorkStep[]): StageSteps[] {
  const groups: { stage: WorkStage; first: number; steps: WorkStep[] }[] = [];
  for (const [index, step] of work.entries()) {
    const last = groups.at(-1);
    if (last?.stage === step.stage) last.steps.push(step);
    else groups.push({ stage: step.stage, first: index + 1, steps: [step] });
  }
  return groups;
}

/** How many of the ids are ticked off. */
export function countDone(ids: readonly string[], done: readonly string[] = []): number {
  const ticked = new Set(done);
  return ids.filter((id) => ticked.has(id)).length;
}

/**
 * What is ticked off for a mix: the step of the work that makes it, so that both places agree; buckets mixed at one go are one
 * step.
 */
export function idOfBatch({ number }: Pick<Batch, 'number'>, work: readonly WorkStep[]): string {
  const name = String(number);
  const step = work.find(({ code, of }) => (code === 'mix' || code === 'mix_trial') && of.includes(name));
  return step?.id ?? `mix ${name}`;
}

/** What a mix is for, as written beside its bucket. */
export function sayBatchUse({ boards, trial }: Pick<Batch, 'boards' | 'trial'>): string {
  const names = boards.map((board) => (board === 'packing' ? 'packing strips' : board));
  const first = trial ? 'trial: ' : '';
  return first + (names.length > 0 ? names.join(', ') : 'the powder and the pace');
}

const plane = { href: '#lining/plane', name: 'Plane' };
const boards = { href: '#lining/boards', name: 'Boards' };
const screws = { href: '#lining/screws', name: 'Screws' };
const mixes = { href: '#lining/adhesive', name: 'Mixes' };
const sheets: { readonly [C in WorkCode]?: { readonly href: string; readonly name: string } } = {
  other_way: plane,
  hack_off: plane,
  bring: boards,
  mark_out: screws,
  trace_services: screws,
  set_screws: screws,
  check_screws: screws,
  cut_packing: boards,
  bond_packing: boards,
  cut_boards: boards,
  fix_board: boards,
  fix_reveals: boards,
  mix_trial: mixes,
  mix: mixes,
};

/** The part of the lining that shows what a step is about, piece by piece; null where the step says it all. */
export function sheetOf({
  code,
}: Pick<WorkStep, 'code'>): { readonly href: string; readonly name: string } | null {
  return sheets[code] ?? null;
}

/**
 * A sentence in which no line breaks between a number and its unit.
 * @example keepUnits('12.5 mm up, 3 boards') // '12.5\u00a0mm up, 3 boards'
 */
export function keepUnits(text: string): string {
  return text.replace(/(\d) (?=(?:%|°C|m²|mm|m|kg|L|min|h|in|ft)(?![A-Za-z]))/g, '$1\u00a0');
}
