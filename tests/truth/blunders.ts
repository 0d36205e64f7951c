import { imageFromWall } from '../../src/core/camera/camera.ts';
import type { Photo, Survey } from '../../src/core/survey.ts';
import { seedRandom, type Random } from './random.ts';
import { makeSurvey, type MadeSurvey, type SurveyOptions } from './survey.ts';
import { solveRoughly } from './solveRoughly.ts';
import { wallKinds } from './wall.ts';

/** A reading wrong by 10 mm, a line's height by 100 mm, two marks swapped, the laser knocked by 4 mm/m, nothing wrong. */
export type BlunderKind = 'reading' | 'height' | 'swap' | 'tilt' | 'none';
export const blunderKinds: readonly BlunderKind[] = ['reading', 'height', 'swap', 'tilt', 'none'];

const READING_MM = 10;
const HEIGHT_MM = 100;
const TILT = 0.004;

/** What a survey with one mistake says of it: whether that was named, and what else was. */
export interface Trial {
  readonly wall: string;
  readonly isNamed: boolean;
  readonly others: readonly string[];
}

/** Solves the made survey of a seed with one mistake at a place of chance; walls of all kinds in turn. */
export function tryBlunder(kind: BlunderKind, seed: number, options: SurveyOptions = {}): Trial {
  const wall = wallKinds[seed % wallKinds.length]!;
  const made = makeSurvey(seed, wall, options);
  const { survey, wanted } = spoil(made, kind, seedRandom(seed * 31 + kind.length));
  const names = solveRoughly(survey)
    .warnings.filter(({ code }) => code.endsWith('_suspect'))
    .map(({ code, subject }) => `${code} ${subject}`);
  return { wall, isNamed: names.includes(wanted), others: names.filter((name) => name !== wanted) };
}

function spoil(made: MadeSurvey, kind: BlunderKind, random: Random): { survey: Survey; wanted: string } {
  const { survey } = made;
  const pick = (count: number) => Math.floor(random.uniform() * count);
  const sign = random.uniform() < 0.5 ? -1 : 1;
  if (kind === 'none') return { survey, wanted: '' };
  if (kind === 'reading') {
    const at = pick(survey.readings.length);
    const readings = survey.readings.map((reading, k) =>
      k === at ? { ...reading, distance: reading.distance + sign * READING_MM } : reading,
    );
    return { survey: { ...survey, readings }, wanted: `reading_suspect ${readings[at]!.id}` };
  }
  const index = pick(survey.photos.length);
  const photo = survey.photos[index]!;
  const line = photo.lines[0]!;
  const put = (changed: Photo): Survey => ({
    ...survey,
    photos: survey.photos.map((other) => (other === photo ? changed : other)),
  });
  if (kind === 'swap') {
    const first = pick(4);
    const second = (first + 1 + pick(3)) % 4;
    const from = (k: number) => (k === first ? second : k === second ? first : k);
    const marks = photo.marks.map((mark, k) => ({
      ...mark,
      u: photo.marks[from(k)]!.u,
      v: photo.marks[from(k)]!.v,
    }));
    return { survey: put({ ...photo, marks }), wanted: `marks_suspect ${photo.id}` };
  }
  const wanted = `line_suspect ${line.id}`;
  if (kind === 'height') {
    const sheet = { ...line.sheet, at: line.sheet.at! + sign * HEIGHT_MM };
    return { survey: put({ ...photo, lines: [{ ...line, sheet }] }), wanted };
  }
  return { survey: put({ ...photo, lines: [tiltLine(made, index, sign * TILT)] }), wanted };
}

/** The line of a photo as its camera would have seen it with the laser's sheet tilted about the wall's middle. */
function tiltLine({ survey, truth, cameras }: MadeSurvey, index: number, tilt: number) {
  const line = survey.photos[index]!.lines[0]!;
  const { axis, at } = line.sheet;
  const run = axis === 'level' ? survey.wall.width : survey.wall.height;
  const see = (s: number, across: number) => {
    const [along, up] = axis === 'level' ? [s, across] : [across, s];
    return imageFromWall(cameras[index]!, { along, up, out: truth(along, up) });
  };
  const points = line.points.map((point, k) => {
    const s = (k / (line.points.length - 1)) * run;
    const level = see(s, at!);
    const tilted = see(s, at! + tilt * (s - run / 2));
    return { ...point, u: point.u + tilted.u - level.u, v: point.v + tilted.v - level.v };
  });
  return { ...line, points };
}
