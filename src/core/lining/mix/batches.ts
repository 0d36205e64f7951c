import type { Batch } from '../../liningPlan.ts';
import type { Warning } from '../../refusal.ts';
import { powderOf } from '../adhesive.ts';
import type { LiningSettings } from '../defaults.ts';

/** Something to bed: how much adhesive it takes and how long it takes to place and press home. */
export interface MixItem {
  readonly id: string;
  readonly volumeL: number;
  readonly placeMin: number;
}

/** What is mixed for at one go: the things it beds, in their order, and its batches; no items = a trial used in the next. */
export interface Pour {
  readonly kind: MixKind;
  readonly items: readonly string[];
  readonly batches: readonly Batch[];
}

export type MixKind = 'packing' | 'boards' | 'reveals';

/** All there is to bed, each kind in the order of the work. */
export type MixItems = Readonly<Record<MixKind, readonly MixItem[]>>;

export interface BatchPlan {
  readonly pours: readonly Pour[];
  readonly batches: readonly Batch[];
  readonly warnings: readonly Warning[];
}

type Pace = Pick<
  LiningSettings,
  | 'restMin'
  | 'stirMin'
  | 'applyMinPerL'
  | 'powderKgPerL'
  | 'wasteShare'
  | 'waterLPerKg'
  | 'mixMostKg'
  | 'potLifeMin'
  | 'trialMixKg'
>;

const kinds = ['packing', 'boards', 'reveals'] as const satisfies readonly MixKind[];
const slack = 1e-9;

const sum = <T>(items: readonly T[], of: (item: T) => number) =>
  items.reduce((total, item) => total + of(item), 0);

/**
 * Time (min) from the powder in the water to the last of it pressed: all its buckets rest together and are stirred one
 * after the other before the first dab.
 * @example minutesInUse(8, 6, 1, { restMin: 4, stirMin: 3, applyMinPerL: 0.6 }) // 17.8
 */
export function minutesInUse(
  volumeL: number,
  placeMin: number,
  buckets: number,
  { restMin, stirMin, applyMinPerL }: Pick<Pace, 'restMin' | 'stirMin' | 'applyMinPerL'>,
): number {
  return restMin + buckets * stirMin + applyMinPerL * volumeL + placeMin;
}

/**
 * Fewest buckets that take the powder for a volume (L), waste included.
 * @example countBuckets(14.4, { powderKgPerL: 1.05, wasteShare: 0.1, mixMostKg: 15 }) // 2
 */
export function countBuckets(
  volumeL: number,
  pace: Pick<Pace, 'powderKgPerL' | 'wasteShare' | 'mixMostKg'>,
): number {
  return Math.max(1, Math.ceil(powderOf(volumeL, pace) / pace.mixMostKg - slack));
}

const volumeOf = (items: readonly MixItem[]) => sum(items, ({ volumeL }) => volumeL);
const minutesOf = (items: readonly MixItem[], pace: Pace) =>
  minutesInUse(
    volumeOf(items),
    sum(items, ({ placeMin }) => placeMin),
    countBuckets(volumeOf(items), pace),
    pace,
  );

/** Runs of neighbours that share a bucket: each as long as one bucket and its pot life allow, so that they are fewest. */
function groupItems(items: readonly MixItem[], pace: Pace): MixItem[][] {
  const groups: MixItem[][] = [];
  for (const item of items) {
    const joined = [...(groups.at(-1) ?? []), item];
    const isOneMix =
      countBuckets(volumeOf(joined), pace) === 1 && minutesOf(joined, pace) <= pace.potLifeMin + slack;
    if (isOneMix && groups.length > 0) groups[groups.length - 1] = joined;
    else groups.push([item]);
  }
  return groups;
}

/** What a batch is said to be for. */
const nameUse = (kind: MixKind, items: readonly MixItem[]) =>
  kind === 'packing' ? ['packing'] : items.map(({ id }) => id);

interface Draft {
  readonly kind: MixKind;
  readonly items: readonly MixItem[];
  /** What the batches bed, where that is not `items`: a trial beds part of the next. */
  readonly boards: readonly string[];
  readonly volumeL: number;
  readonly minutes: number;
  readonly buckets: number;
  readonly trial: boolean;
}

/** The trial mix, and what it leaves to mix for: `items` are those first in the work. */
function draftTrial(
  kind: MixKind,
  items: readonly MixItem[],
  pace: Pace,
): { drafts: Draft[]; rest: readonly MixItem[] } {
  const { trialMixKg, potLifeMin } = pace;
  const first = items[0];
  if (!first || trialMixKg === 0) return { drafts: [], rest: items };
  const small = { ...pace, mixMostKg: Math.min(trialMixKg, pace.mixMostKg) };
  const [whole = []] = groupItems(items, small);
  if (countBuckets(volumeOf(whole), small) === 1 && minutesOf(whole, small) <= potLifeMin + slack) {
    const draft = draftPour(kind, whole, pace, true);
    return { drafts: [draft], rest: items.slice(whole.length) };
  }
  const trialL = small.mixMostKg / powderOf(1, pace);
  const rest = { ...first, volumeL: first.volumeL - trialL };
  const alone = { ...first, placeMin: 0, volumeL: trialL };
  const minutes = minutesOf([alone], pace) + (rest.volumeL > slack ? minutesOf([rest], pace) : Infinity);
  const draft = { kind, items: [], buckets: 1, trial: true };
  if (minutes <= potLifeMin + slack)
    return {
      drafts: [{ ...draft, boards: nameUse(kind, [first]), volumeL: trialL, minutes }],
      rest: [rest, ...items.slice(1)],
    };
  const idle = minutesInUse(0, 0, 1, pace);
  const thrown = idle <= potLifeMin + slack ? [{ ...draft, boards: [], volumeL: 0, minutes: idle }] : [];
  return { drafts: thrown, rest: items };
}

function draftPour(kind: MixKind, items: readonly MixItem[], pace: Pace, trial = false): Draft {
  return {
    kind,
    items,
    boards: nameUse(kind, items),
    volumeL: volumeOf(items),
    minutes: minutesOf(items, pace),
    buckets: countBuckets(volumeOf(items), pace),
    trial,
  };
}

/**
 * The mixes in the order of the work: a small trial mix first, then packing strips, boards and boards of reveals, each
 * mix used within the pot life at the user's pace and no larger than the largest mix. Neighbours that are small share one;
 * what takes more than one bucket has them mixed together. The trial beds the first things in the work that it is enough
 * for; else part of the first of them, where its pot life reaches until that is pressed; else it is thrown away (no
 * boards, no volume, its powder on top of the wall's). `mix_outlasts_pot` names what cannot be bedded within the pot life.
 * Source: one mix = one board, a small first mix, a clean bucket for each: common practice, no source.
 */
export function planBatches(items: MixItems, pace: Pace): BatchPlan {
  const firstKind = kinds.find((kind) => items[kind].length > 0);
  const drafts = kinds.flatMap((kind): Draft[] => {
    const trial = kind === firstKind ? draftTrial(kind, items[kind], pace) : null;
    const rest = groupItems(trial?.rest ?? items[kind], pace);
    return [...(trial?.drafts ?? []), ...rest.map((group) => draftPour(kind, group, pace))];
  });
  const pours: Pour[] = [];
  for (const { kind, items: bedded, boards, volumeL, minutes, buckets, trial } of drafts) {
    const before = sum(pours, ({ batches }) => batches.length);
    const powderKg =
      boards.length === 0 ? Math.min(pace.trialMixKg, pace.mixMostKg) : powderOf(volumeL, pace) / buckets;
    const batch = { boards, powderKg, waterL: powderKg * pace.waterLPerKg, volumeL: volumeL / buckets };
    pours.push({
      kind,
      items: bedded.map(({ id }) => id),
      batches: Array.from({ length: buckets }, (_, k) => ({
        number: before + k + 1,
        ...batch,
        trial,
        minutes,
      })),
    });
  }
  const late = pours.filter(({ batches }) => batches[0]!.minutes > pace.potLifeMin + slack);
  const subjects = late.flatMap(({ kind, items: ids }) => (kind === 'packing' ? ['wall'] : ids));
  return {
    pours,
    batches: pours.flatMap(({ batches }) => batches),
    warnings: [...new Set(subjects)].map((subject) => ({ code: 'mix_outlasts_pot', subject })),
  };
}
