import { z } from 'zod';
import type { Survey } from '../core/survey.ts';

// zod probes for `new Function` otherwise, which the page's policy reports as a breach
z.config({ jitless: true });

/** Longest and shortest side of a wall that is taken for one (mm); own choice. */
const wallSideMm = { least: 100, most: 100_000 };

const positive = z.number().gt(0);
/** A field that may be missing, or null for the same. */
const optional = <T extends z.ZodType>(item: T) => item.nullish().transform((given) => given ?? undefined);
const list = <T extends z.ZodType>(item: T) =>
  z
    .array(item)
    .nullish()
    .transform((items) => items ?? []);
const withDefault = <T extends z.ZodType>(item: T, value: z.output<T>) =>
  item.nullish().transform((given) => given ?? value);
const id = z.string().min(1);

/** A path inside the survey's folder: not absolute, and no step up. */
const photoFile = z
  .string()
  .min(1)
  .refine((path) => !/^[/\\]|^[a-z]:|(^|[/\\])\.\.([/\\]|$)|\0/i.test(path), {
    error: 'must be a path inside the folder of the survey',
  });

const rect = { along: z.number(), up: z.number(), width: positive, height: positive };
const wallSide = z.number().min(wallSideMm.least).max(wallSideMm.most);

const spot = z.looseObject({ along: z.number(), up: z.number() });

const wall = z.looseObject({
  width: wallSide,
  height: wallSide,
  side: withDefault(z.enum(['internal', 'external', 'party']), 'internal'),
  openings: list(
    z.looseObject({
      id,
      kind: withDefault(z.string(), 'opening'),
      ...rect,
      reveal: optional(z.number().min(0)),
    }),
  ),
  boxes: list(
    z.looseObject({ id, kind: withDefault(z.string(), 'box'), ...rect, proud: withDefault(z.number(), 0) }),
  ),
  floor: optional(z.array(spot)),
  ceiling: optional(z.array(spot)),
});

const unknownLens = { k1: null, sigma: 0.01, k2: undefined, k2Sigma: undefined, from: undefined };
/** Left out of the solve by hand. */
const leftOut = optional(z.boolean());
const phone = z.looseObject({
  id,
  name: withDefault(z.string(), ''),
  lens: withDefault(
    z.looseObject({
      k1: withDefault(z.number().nullable(), unknownLens.k1),
      sigma: withDefault(positive, unknownLens.sigma),
      k2: optional(z.number()),
      k2Sigma: optional(positive),
      from: optional(z.enum(['check'])),
    }),
    unknownLens,
  ),
});

const reading = z.looseObject({
  id,
  along: z.number(),
  up: z.number(),
  distance: z.number(),
  sigma: withDefault(positive, 0.7),
  leftOut,
});

const measured = withDefault(z.number().nullable(), null);
const standSigmaMm = 10;
const stand = withDefault(
  z.looseObject({ off: measured, up: measured, along: measured, sigma: withDefault(positive, standSigmaMm) }),
  { off: null, up: null, along: null, sigma: standSigmaMm },
);

/** A gap as { from, to } or as the pair [from, to]. */
const gap = z.preprocess(
  (given: unknown) => {
    if (!Array.isArray(given) || given.length !== 2) return given;
    const [from, to] = given as unknown[];
    return { from, to };
  },
  z.looseObject({ from: z.number(), to: z.number(), byHand: optional(z.boolean()) }),
);

const line = z.looseObject({
  id,
  colour: z.enum(['red', 'green']),
  sheet: z.looseObject({ axis: z.enum(['level', 'plumb']), at: measured }),
  points: list(
    z.looseObject({
      u: z.number(),
      v: z.number(),
      sigma: withDefault(positive, 0.1),
      state: withDefault(z.enum(['found', 'moved', 'added', 'suspect', 'off']), 'found'),
      why: optional(z.enum(['two_peaks', 'low_contrast', 'off_neighbours', 'wide', 'crossing'])),
    }),
  ),
  gaps: list(gap),
  pins: optional(z.array(z.looseObject({ u: z.number(), v: z.number() }))),
  leftOut,
});

const count = z.number().int().min(0);
const tapeReading = z.looseObject({
  legible: z.boolean(),
  graduations: list(z.looseObject({ at: z.number(), u: z.number(), v: z.number(), sigma: positive })),
  rmsPx: z.number().min(0),
  agree: count,
  of: count,
  misnamedMm: withDefault(z.number(), 0),
});
const stepBlock = z.looseObject({
  line: id,
  from: z.number(),
  to: z.number(),
  thickness: positive,
  sigma: withDefault(positive, 0.2),
});

const pixels = optional(z.number().int().positive());
const photo = z.looseObject({
  id,
  file: photoFile,
  phone: id,
  stand,
  marks: list(
    z.looseObject({
      u: z.number(),
      v: z.number(),
      along: z.number(),
      up: z.number(),
      sigma: withDefault(positive, 1),
      leftOut,
    }),
  ),
  tapes: list(
    z.looseObject({
      from: z.number().int(),
      to: z.number().int(),
      axis: z.enum(['along', 'up']),
      pitch: withDefault(positive, 10),
      read: optional(tapeReading),
    }),
  ),
  masks: list(z.looseObject({ u: z.number(), v: z.number(), width: positive, height: positive })),
  lines: list(line),
  widthPx: pixels,
  heightPx: pixels,
  focal35Mm: positive.nullish(),
  laserOff: optional(photoFile),
  blocks: optional(z.array(stepBlock)),
  station: optional(id),
  leftOut,
});

const usualBoard = { width: 1200, length: 2400, thickness: 12.5 };
const usualBed = { min: 5, max: 20, packedMax: 40 };
const bed = z
  .looseObject({
    min: withDefault(z.number().min(0), usualBed.min),
    max: withDefault(positive, usualBed.max),
    packedMax: positive.nullish(),
  })
  .transform((given) => ({
    ...given,
    packedMax: given.packedMax ?? Math.max(usualBed.packedMax, given.max),
  }));
const planeWishes = z.looseObject({
  sigmas: optional(z.number().min(0).max(5)),
  lean: optional(z.number().min(0)),
  turn: optional(z.enum(['free', 'laser', 'square'])),
  squareBy: optional(z.number()),
  faces: optional(
    z.array(
      z.looseObject({
        id,
        kind: withDefault(z.string(), 'face'),
        along: z.number(),
        up: z.number(),
        distance: z.number(),
        rule: withDefault(z.enum(['meet', 'behind', 'before']), 'meet'),
        tolerance: optional(z.number().min(0)),
      }),
    ),
  ),
});
const lining = z.looseObject({
  board: withDefault(
    z.looseObject({
      width: withDefault(positive, usualBoard.width),
      length: withDefault(positive, usualBoard.length),
      thickness: withDefault(positive, usualBoard.thickness),
    }),
    usualBoard,
  ),
  bed: withDefault(bed, usualBed),
  stock: optional(z.array(z.looseObject({ width: positive, length: positive }))),
  plane: optional(planeWishes),
  hackOff: optional(z.array(spot)),
  start: optional(z.enum(['best', 'left', 'right', 'balanced'])),
  settings: optional(z.record(z.string(), z.number())),
  screwLengths: optional(z.array(positive)),
  asBuilt: optional(z.array(z.looseObject({ screw: id, projection: z.number() }))),
  done: optional(z.array(id)),
});

/**
 * Contract A, survey file version 1: what may be missing gets its usual value (common practice, no source), what is not
 * known is kept. The laws between fields are in `findBrokenLaw`.
 */
export const surveySchema = z.looseObject({
  format: z.literal('bedplane-survey'),
  version: z.literal(1),
  title: withDefault(z.string(), ''),
  units: withDefault(z.enum(['mm', 'inch']), 'mm'),
  wall,
  phones: list(phone),
  readings: list(reading),
  photos: list(photo),
  lining: withDefault(lining, lining.parse({})),
});

/** The schema's output is the core's survey: this line does not compile when they drift apart. */
export const asSurvey = (parsed: z.output<typeof surveySchema>): Survey => parsed;
