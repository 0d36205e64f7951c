import type { Residual, Solution } from '../../core/results.ts';
import { coverLine, listHoles, type Coverage } from '../../core/line/coverage.ts';
import type { LaserLine, Phone, Photo, Survey } from '../../core/survey.ts';
import { lensWords } from '../lens/lensWords.ts';
import { formatLength } from '../units.ts';
import type { Expectation } from './expectation.ts';

/** One figure of a photo's quality, in words. */
export interface Figure {
  readonly name: string;
  readonly words: string;
  /** It wants the user's eye. */
  readonly needs: boolean;
}

const count = (number: number, one: string, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;

/** Marks that were used, left out by hand or by the test, and seem wrong. */
function markFigure(photo: Photo, residuals: readonly Residual[], expected: Expectation | null): Figure {
  const byHand = photo.marks.filter(({ leftOut }) => leftOut).length;
  const mine = residuals.filter(
    ({ kind, subject, index }) => kind === 'mark' && subject === photo.id && index !== -1,
  );
  const indices = (state: Residual['state']) =>
    new Set(mine.filter((each) => each.state === state).map(({ index }) => index));
  const byTest = indices('left_out');
  const suspect = mine.length > 0 ? indices('suspect') : new Set(expected?.marks ?? []);
  const used = photo.marks.length - byHand - byTest.size;
  const parts = [
    `${used} used`,
    byHand > 0 && `${byHand} left out by you`,
    byTest.size > 0 && `${byTest.size} left out by the test`,
    suspect.size > 0 && `${suspect.size} in doubt`,
  ];
  return {
    name: 'Marks',
    words: parts.filter(Boolean).join(', '),
    needs: byTest.size + suspect.size > 0 || used < 2,
  };
}

function tapeFigure({ tapes }: Photo): Figure[] {
  if (tapes.length === 0) return [];
  const read = tapes.filter((tape) => tape.read?.legible);
  const seen = read.reduce((sum, tape) => sum + tape.read!.graduations.length, 0);
  const misnamed = read.some((tape) => tape.read!.misnamedMm !== 0);
  const words = read.length === 0 ? 'graduations not read' : `${count(seen, 'graduation')} read`;
  return [{ name: 'Tape', words: misnamed ? `${words}, a name does not fit` : words, needs: misnamed }];
}

function standFigure({ stand }: Photo, { units }: Survey): Figure {
  const parts = (['off', 'up', 'along'] as const).filter((part) => stand[part] !== null);
  const names = { off: 'distance', up: 'height', along: 'place along' };
  return {
    name: 'Where the phone stood',
    words:
      parts.length === 0
        ? 'not measured'
        : `${parts.map((part) => names[part]).join(' and ')} measured to ±${formatLength(stand.sigma, units)}`,
    needs: parts.length === 0,
  };
}

function lensFigure(phone: Phone | undefined, solution: Solution | null): Figure {
  const fitted = solution?.phones.find(({ id }) => id === phone?.id);
  const words = fitted
    ? `fitted with the wall, k1 ${fitted.k1.toFixed(3).replace('-', '−')} ± ${fitted.sigma.toFixed(3)}`
    : phone
      ? lensWords(phone.lens)
      : 'not known';
  return { name: 'Lens', words, needs: false };
}

/** What the photo sees of the wall, in mm: with the rest, or as expected of it by itself. */
function sigmaFigures(
  photo: Photo,
  solution: Solution | null,
  expected: Expectation | null,
  units: Survey['units'],
): Figure[] {
  const pose = solution?.photos.find(({ id }) => id === photo.id);
  const worst = (pick: (line: Expectation['lines'][number]) => number) =>
    Math.max(0, ...(expected?.lines.map(pick) ?? []));
  const figures: Figure[] = [];
  const say = (name: string, sigmaMm: number) =>
    figures.push({ name, words: `±${formatLength(sigmaMm, units)}`, needs: sigmaMm > 3 });
  if (pose) say('Sees the wall, with all the rest', pose.offsetSigmaMm);
  if (expected && expected.lines.length > 0) {
    say(
      "The wall's shape, by this photo",
      worst(({ shapeMm }) => shapeMm),
    );
    figures.push({
      name: 'Its distance and lean too, by this photo alone',
      words: `±${formatLength(
        worst(({ aloneMm }) => aloneMm),
        units,
      )}`,
      needs: false,
    });
  }
  return figures;
}

/** A photo's uncertainty and the evidence it rests on. */
export function listFigures(
  survey: Survey,
  photo: Photo,
  solution: Solution | null,
  expected: Expectation | null,
): Figure[] {
  const blocks = photo.blocks?.length ?? 0;
  const phone = survey.phones.find(({ id }) => id === photo.phone);
  return [
    ...sigmaFigures(photo, solution, expected, survey.units),
    markFigure(photo, solution?.residuals ?? [], expected),
    ...tapeFigure(photo),
    standFigure(photo, survey),
    lensFigure(phone, solution),
    ...(blocks > 0 ? [{ name: 'Packers', words: `${blocks} under the line`, needs: false }] : []),
  ];
}

/** On how much of the wall a line is seen: by its solved profile, else by what the photo itself says; null where neither is there. */
export function coverOf(
  survey: Survey,
  photo: Photo,
  line: LaserLine,
  solution: Solution | null,
  expected: Expectation | null,
): Coverage | null {
  const profile = solution?.profiles.find((each) => each.photo === photo.id && each.line === line.id);
  const s = profile?.s ?? expected?.lines.find((each) => each.line === line.id)?.s;
  if (!s || s.length === 0) return null;
  const lengthMm = line.sheet.axis === 'level' ? survey.wall.width : survey.wall.height;
  return coverLine(s, lengthMm, listHoles(line.sheet, survey.wall));
}

/** What a line's coverage and its doubted points come to, in one sentence. */
export function sayCoverage(line: LaserLine, coverage: Coverage | null, units: Survey['units']): string {
  const used = line.points.filter(({ state }) => state !== 'off');
  const suspects = used.filter(({ state }) => state === 'suspect').length;
  if (used.length === 0) return 'No points yet.';
  const doubted =
    suspects === 0 ? 'no point doubted' : `${count(suspects, 'point')} of ${used.length} doubted`;
  if (!coverage || Number.isNaN(coverage.share)) return `${count(used.length, 'point')}, ${doubted}.`;
  const gaps = coverage.gaps.map(
    ({ from, to }) => `${formatLength(from, units, 0)} to ${formatLength(to, units, 0)}`,
  );
  const missing = gaps.length === 0 ? '' : ` Not seen: ${gaps.join(', ')}.`;
  return `Seen on ${Math.round(100 * coverage.share)} % of the wall, ${doubted}.${missing}`;
}
