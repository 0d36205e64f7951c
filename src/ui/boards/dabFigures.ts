import type { Dab } from '../../core/liningPlan.ts';
import type { LiningPlan } from '../../core/results.ts';
import { lengthText, type Units } from '../units.ts';

/** Least and most of a length (mm). */
export interface Range {
  readonly leastMm: number;
  readonly mostMm: number;
}

/** Dabs or strips of one kind together. Least and most of each measure (mm). */
export interface DabRow {
  readonly name: string;
  readonly count: number;
  readonly width: Range;
  readonly height: Range;
  readonly depth: Range;
  readonly volumeL: number;
}

const names: Readonly<Record<Dab['kind'], string>> = {
  dab: 'dabs',
  bottom: 'bottom strip',
  edge: 'edge strips',
  round_box: 'round boxes',
  round_opening: 'round openings',
};

const rangeOf = (lengthsMm: readonly number[]): Range => ({
  leastMm: Math.min(...lengthsMm),
  mostMm: Math.max(...lengthsMm),
});

/** The adhesive of one board (or of all: null) by kind, dabs on packing strips apart; kinds that it has none of are left out. */
export function sumDabs({ dabs }: Pick<LiningPlan, 'dabs'>, board: string | null): DabRow[] {
  const own = dabs.filter((dab) => board === null || dab.board === board);
  const groups = new Map<string, Dab[]>();
  for (const kind of Object.keys(names) as Dab['kind'][])
    for (const isPacked of [false, true]) {
      const some = own.filter((dab) => dab.kind === kind && (dab.packing !== null) === isPacked);
      if (some.length > 0) groups.set(`${names[kind]}${isPacked ? ' on packing' : ''}`, some);
    }
  return [...groups].map(([name, some]) => ({
    name,
    count: some.length,
    width: rangeOf(some.map(({ width }) => width)),
    height: rangeOf(some.map(({ height }) => height)),
    depth: rangeOf(some.map(({ depthMm }) => depthMm)),
    volumeL: some.reduce((sum, { volumeL }) => sum + volumeL, 0),
  }));
}

/**
 * A range as it is written: one figure where both round to it.
 * @example sayRange({ leastMm: 5.9, mostMm: 26.2 }, 'mm') // '6–26'
 * @example sayRange({ leastMm: 99.8, mostMm: 100.2 }, 'mm') // '100'
 */
export function sayRange({ leastMm, mostMm }: Range, units: Units): string {
  const [least, most] = [lengthText(leastMm, units, 0), lengthText(mostMm, units, 0)];
  return least === most ? least : `${least}–${most}`;
}
