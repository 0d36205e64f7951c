import { z } from 'zod';
import { refuse } from '../core/refusal.ts';
import type { Lining } from '../core/survey.ts';
import { writeJson } from './json.ts';
import { describeIssue } from './problem.ts';
import { surveySchema } from './schema.ts';

/** A way of lining walls that is kept to be used again: what of a survey's lining is not about its wall. */
export interface LiningProfile extends Pick<Lining, 'board' | 'bed' | 'stock' | 'screwLengths' | 'settings'> {
  readonly name: string;
  /** ms since 1970 */
  readonly savedAt: number;
  readonly sigmas?: number | undefined;
  readonly lean?: number | undefined;
}

const FORMAT = 'bedplane-profile';
const profileSchema = z.object({
  format: z.literal(FORMAT),
  version: z.literal(1),
  name: z.string().trim().min(1).max(80),
  savedAt: z.number().min(0),
  lining: surveySchema.shape.lining,
});

function readJson(text: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return null;
  }
}

/**
 * Reads a profile from its file's text, or from a value that came out of one, by the same schema as a survey's lining.
 * @param file the file's name, for the refusals
 * @throws profile_not_ours, profile_field_wrong
 */
export function parseProfile(given: unknown, file: string): LiningProfile {
  const value = typeof given === 'string' ? readJson(given) : given;
  if ((value as { format?: unknown } | null)?.format !== FORMAT)
    return refuse({ code: 'profile_not_ours', file });
  const parsed = profileSchema.safeParse(value);
  if (!parsed.success)
    return refuse({ code: 'profile_field_wrong', file, ...describeIssue(parsed.error.issues, value) });
  const { name, savedAt, lining } = parsed.data;
  const { board, bed, stock, screwLengths, settings, plane } = lining;
  if (bed.max < bed.min || bed.packedMax < bed.max)
    return refuse({ code: 'profile_field_wrong', file, path: 'lining.bed', problem: 'its limits must rise' });
  const { sigmas, lean } = plane ?? {};
  return { name, savedAt, board, bed, stock, screwLengths, settings, sigmas, lean };
}

/** A profile as it is kept and as its file has it. */
export function packProfile(profile: LiningProfile): object {
  const { name, savedAt, board, bed, stock, screwLengths, settings, sigmas, lean } = profile;
  const plane = sigmas === undefined && lean === undefined ? undefined : { sigmas, lean };
  return {
    format: FORMAT,
    version: 1,
    name,
    savedAt,
    lining: { board, bed, stock, screwLengths, settings, plane },
  };
}

/** The text of a profile's file. */
export function writeProfile(profile: LiningProfile): string {
  return writeJson(packProfile(profile));
}
