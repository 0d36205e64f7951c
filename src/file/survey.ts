import { refuse } from '../core/refusal.ts';
import type {
  Gap,
  LaserLine,
  LinePoint,
  Mark,
  Mask,
  Photo,
  Pin,
  Survey,
  Tape,
  TapeReading,
} from '../core/survey.ts';
import { writeJson } from './json.ts';
import { findBrokenLaw } from './laws.ts';
import { describeIssue } from './problem.ts';
import { asSurvey, surveySchema } from './schema.ts';
import { knownVersion, stepUp, versionSteps, type SurveyObject } from './steps.ts';

const isObject = (value: unknown): value is SurveyObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function readJson(text: string, file: string): unknown {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return refuse({ code: 'survey_not_json', file });
  }
}

/**
 * Reads a survey (contract A) from the file's text, or from a value that came out of one. Versions ever released are
 * stepped up, missing optional fields get their usual values, unknown keys are kept.
 * @param file the file's name, for the refusals
 * @throws survey_not_json, survey_not_ours, survey_too_new, survey_field_wrong
 */
export function parseSurvey(given: unknown, file = 'survey.json'): Survey {
  const value = typeof given === 'string' ? readJson(given, file) : given;
  if (!isObject(value) || value.format !== 'bedplane-survey')
    return refuse({ code: 'survey_not_ours', file });
  const { version } = value;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return refuse({ code: 'survey_field_wrong', path: 'version', problem: 'must be a whole number from 1' });
  if (version > knownVersion) return refuse({ code: 'survey_too_new', version, known: knownVersion });
  const newest = stepUp(value, version, versionSteps);
  const parsed = surveySchema.safeParse(newest);
  if (!parsed.success)
    return refuse({ code: 'survey_field_wrong', ...describeIssue(parsed.error.issues, newest) });
  const survey = asSurvey(parsed.data);
  const broken = findBrokenLaw(survey);
  if (broken) return refuse({ code: 'survey_field_wrong', ...broken });
  return survey;
}

const roundTo = (value: number, unit: number) => Math.round(value / unit) * unit;
/** Pixels to 0.001, as a short decimal. */
const roundPx = (px: number) => Number(roundTo(px, 0.001).toFixed(3));
const roundSigmaPx = (px: number) => Number(px.toPrecision(3));

const roundPoint = (point: LinePoint): LinePoint => ({
  ...point,
  u: roundPx(point.u),
  v: roundPx(point.v),
  sigma: roundSigmaPx(point.sigma),
});
const roundMark = (mark: Mark): Mark => ({ ...mark, u: roundPx(mark.u), v: roundPx(mark.v) });
const roundPin = (pin: Pin): Pin => ({ ...pin, u: roundPx(pin.u), v: roundPx(pin.v) });
const roundGraduation = (graduation: TapeReading['graduations'][number]) => ({
  ...graduation,
  u: roundPx(graduation.u),
  v: roundPx(graduation.v),
  sigma: roundSigmaPx(graduation.sigma),
});
const roundTape = (tape: Tape): Tape =>
  tape.read
    ? {
        ...tape,
        read: {
          ...tape.read,
          rmsPx: roundPx(tape.read.rmsPx),
          graduations: tape.read.graduations.map(roundGraduation),
        },
      }
    : tape;
const roundGap = (gap: Gap): Gap => ({ ...gap, from: roundPx(gap.from), to: roundPx(gap.to) });
const roundMask = (mask: Mask): Mask => ({
  ...mask,
  u: roundPx(mask.u),
  v: roundPx(mask.v),
  width: roundPx(mask.width),
  height: roundPx(mask.height),
});
const roundLine = (line: LaserLine): LaserLine => ({
  ...line,
  points: line.points.map(roundPoint),
  gaps: line.gaps.map(roundGap),
  ...(line.pins ? { pins: line.pins.map(roundPin) } : {}),
});
const roundPhoto = (photo: Photo): Photo => ({
  ...photo,
  marks: photo.marks.map(roundMark),
  masks: photo.masks.map(roundMask),
  tapes: photo.tapes.map(roundTape),
  lines: photo.lines.map(roundLine),
});

/**
 * The survey file's text (contract A): keys in a fixed order with unknown ones after them, 2-space JSON with small groups
 * on one line, image points to 0.001 px; everything typed by the user as typed.
 */
export function writeSurvey(survey: Survey): string {
  return writeJson({ ...survey, photos: survey.photos.map(roundPhoto) }, keyOrder);
}

/** Keys in the order in which the file has them; `width` and the like stand in more than one group. */
const keyOrder = [
  ...['format', 'version', 'title', 'units', 'wall', 'phones', 'readings', 'photos', 'lining'],
  ...[
    'id',
    'kind',
    'name',
    'file',
    'phone',
    'widthPx',
    'heightPx',
    'focal35Mm',
    'stand',
    'laserOff',
    'blocks',
    'marks',
    'tapes',
    'masks',
  ],
  ...[
    'lines',
    'colour',
    'sheet',
    'points',
    'gaps',
    'pins',
    'legible',
    'graduations',
    'rmsPx',
    'agree',
    'of',
    'misnamedMm',
    'from',
    'to',
    'byHand',
    'axis',
    'at',
    'pitch',
    'u',
    'v',
    'off',
    'along',
  ],
  ...[
    'up',
    'width',
    'height',
    'side',
    'openings',
    'boxes',
    'proud',
    'lens',
    'k1',
    'distance',
    'sigma',
    'state',
    'why',
    'line',
    'read',
  ],
  ...['board', 'length', 'thickness', 'bed', 'min', 'max', 'packedMax'],
];
