import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { encodePhotograph } from '../samples/make/jpeg.ts';
import { planLining } from '../src/core/lining/planLining.ts';
import type { Survey } from '../src/core/survey.ts';
import { packSurvey } from '../src/file/archive.ts';
import { parseSurvey } from '../src/file/survey.ts';
import { keepFoundSample } from './browser/findSample.ts';
import { checkPlan } from './core/lining/checkPlan.ts';
import { noLaserBrick, takePhotograph } from './truth/scenes.ts';
import { solver } from './solver.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const sample = join(root, 'samples/dairy-north-wall');
const folder = mkdtempSync(join(tmpdir(), 'bedplane-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function spawnHere(command: string, args: readonly string[]) {
  const { status, stderr } = spawnSync(command, args, { cwd: root, encoding: 'utf8' });
  return { status, stderr: stderr.trim() };
}
/** What the npm script does, without npm's and tsx's own processes around it. */
const runHeadless = (...args: string[]) =>
  spawnHere(process.execPath, ['--import', 'tsx', 'tests/headless.ts', ...args]);
const runByNpm = (...args: string[]) => spawnHere('npm', ['run', '--silent', 'headless', '--', ...args]);

interface Result {
  profiles: { photo: string; line: string; s: number[]; out: number[]; sigma: number[] }[];
  surface: { step: number; nx: number; ny: number; out: (number | null)[]; sigma: (number | null)[] };
  phones: { id: string; k1: number; sigma: number }[];
  photos: { id: string; position: number[]; focalPx: number; offsetSigmaMm: number }[];
  bedPlane: { p: number; q: number; r: number };
  boards: unknown[];
  screws: { id: string }[];
  warnings: { code: string; subject: string }[];
  timesMs: Record<string, number>;
}
interface Truth {
  stepMm: number;
  nx: number;
  ny: number;
  out: (number | null)[];
  k1: number;
  lines: { photo: string; line: string; stepMm: number; out: (number | null)[] }[];
}
const readJson = <T>(...path: string[]) => JSON.parse(readFileSync(join(...path), 'utf8')) as T;
const share95 = (errors: readonly number[]) =>
  errors.map(Math.abs).sort((a, b) => a - b)[Math.floor(0.95 * errors.length)]!;

describe('on the sample survey', () => {
  const [first, second] = [join(folder, 'first'), join(folder, 'second')];
  const truth = readJson<Truth>(sample, 'expected.json');
  let result: Result;
  let runs: ReturnType<typeof runHeadless>[];
  beforeAll(() => {
    runs = [first, second].map((out) => runHeadless(sample, '--out', out));
    result = readJson<Result>(first, 'result.json');
    keepFoundSample(readFileSync(join(first, 'survey.json'), 'utf8'));
  }, 240_000);

  test('ends with 0 and writes the four files', () => {
    expect(runs).toEqual([
      { status: 0, stderr: '' },
      { status: 0, stderr: '' },
    ]);
    for (const file of ['result.json', 'plan.svg', 'screws.csv', 'survey.json'])
      expect(existsSync(join(first, file)), file).toBe(true);
  });
  test('95 % of the profile points within 1.8 mm of the truth', () => {
    const errors = result.profiles.flatMap(({ photo, s, out }) => {
      const line = truth.lines.find((each) => each.photo === photo)!;
      return s.flatMap((place, k) => {
        const at = place / line.stepMm;
        const [before, after] = [line.out[Math.floor(at)], line.out[Math.ceil(at)]];
        if (typeof before !== 'number' || typeof after !== 'number') return [];
        return [out[k]! - (before + (at - Math.floor(at)) * (after - before))];
      });
    });
    expect(result.profiles.map(({ photo }) => photo)).toEqual([
      'f1',
      'f2',
      'f3',
      'f4',
      'f5',
      'f6',
      'f7',
      'f8',
    ]);
    expect(errors.length).toBeGreaterThan(20_000);
    expect(share95(errors)).toBeLessThan(1.8);
    expect(share95(errors)).toBeGreaterThan(0.3);
  });
  test('95 % of the surface within 3.5 mm, its sigma neither too small nor too large', () => {
    const { step, nx, ny, out, sigma } = result.surface;
    expect({ step, nx, ny }).toEqual({ step: truth.stepMm, nx: truth.nx, ny: truth.ny });
    const known = out.flatMap((value, at) =>
      value === null || typeof truth.out[at] !== 'number'
        ? []
        : [{ error: value - truth.out[at], sigma: sigma[at]! }],
    );
    expect(known.length).toBeGreaterThan(12_000);
    expect(share95(known.map(({ error }) => error))).toBeLessThan(3.5);
    const within2 =
      known.filter(({ error, sigma: each }) => Math.abs(error) < 2 * each).length / known.length;
    expect(within2).toBeGreaterThan(0.85);
    expect(within2).toBeLessThan(0.999);
  });
  test('the window is no wall', () => {
    const { nx, step, out } = result.surface;
    expect(out[(1500 / step) * nx + 1850 / step]).toBeNull();
  });
  test('k1 within 0.004 of the lens, and told with its sigma', () => {
    const { k1, sigma } = result.phones[0]!;
    expect(Math.abs(k1 - truth.k1)).toBeLessThan(0.004);
    expect(sigma).toBeGreaterThan(0.0002);
    expect(sigma).toBeLessThan(0.005);
  });
  test('nothing that is right is called wrong, every line was found', () => {
    const codes = result.warnings.map(({ code }) => code);
    expect(codes.filter((code) => /suspect|no_line|left_out|missing/.test(code))).toEqual([]);
  });
  test('the same run twice gives the same bytes, but for the times', () => {
    for (const file of ['plan.svg', 'screws.csv', 'survey.json'])
      expect(readFileSync(join(first, file)).equals(readFileSync(join(second, file))), file).toBe(true);
    const withoutTimes = (out: string) => ({ ...readJson<Result>(out, 'result.json'), timesMs: undefined });
    expect(withoutTimes(first)).toEqual(withoutTimes(second));
  });
  test('the written survey, with its found points, gives the same result', () => {
    cpSync(join(sample, 'photos'), join(first, 'photos'), { recursive: true });
    const again = join(folder, 'again');
    expect(runHeadless(join(first, 'survey.json'), '--out', again)).toEqual({ status: 0, stderr: '' });
    expect(readJson<Result>(again, 'result.json').surface).toEqual(result.surface);
    expect(readJson<Result>(again, 'result.json').screws).toEqual(result.screws);
  }, 120_000);
  test('the plan keeps what must always hold', () => {
    const survey = parseSurvey(readFileSync(join(first, 'survey.json'), 'utf8'));
    const { nx, ny, step, out, sigma } = result.surface;
    const numbers = (values: (number | null)[]) => Float64Array.from(values, (value) => value ?? NaN);
    const surface = { stepMm: step, nx, ny, out: numbers(out), sigma: numbers(sigma) };
    expect(checkPlan(survey, surface, planLining(survey, surface, solver))).toEqual([]);
    expect(readFileSync(join(first, 'screws.csv'), 'utf8').trim().split('\r\n').length).toBe(
      result.screws.length + 1,
    );
  });
});

describe('on input that has to be put right', () => {
  const text = readFileSync(join(sample, 'survey.json'), 'utf8');
  let count = 0;
  const refused = (change: (survey: Survey) => unknown, photo?: Uint8Array) => {
    const place = join(folder, `case${count++}`);
    cpSync(sample, place, { recursive: true });
    writeFileSync(join(place, 'survey.json'), JSON.stringify(change(JSON.parse(text) as Survey)));
    if (photo) writeFileSync(join(place, 'photos/f1.jpg'), photo);
    const out = join(place, 'out');
    const { status, stderr } = runHeadless(place, '--out', out);
    expect(status).toBe(2);
    expect(existsSync(out)).toBe(false);
    expect(stderr.split('\n')).toHaveLength(1);
    return stderr;
  };
  // one photograph is enough to refuse by, and quicker
  const oneLine = (survey: Survey): Survey => ({ ...survey, photos: survey.photos.slice(0, 1) });
  /** Without readings there is nothing else to go on. */
  const onlyPhoto = (survey: Survey): Survey => ({ ...oneLine(survey), readings: [] });
  const changeFirst = (survey: Survey, change: object): Survey => ({
    ...survey,
    readings: [],
    photos: [{ ...survey.photos[0]!, ...change }],
  });

  test('a survey file of a newer version', () => {
    expect(refused((survey) => ({ ...survey, version: 2 }))).toMatch(/newer version.*Update/);
  });
  test('a picture that is no picture', () => {
    expect(refused(onlyPhoto, new TextEncoder().encode('not a picture'))).toMatch(
      /f1\.jpg cannot be read as a picture/,
    );
  });
  test('a photo that is not there', () => {
    expect(refused((survey) => changeFirst(survey, { file: 'photos/gone.jpg' }))).toMatch(/gone\.jpg/);
  });
  test('a line without its height', () => {
    const lines = [{ id: 'l1', colour: 'green', sheet: { axis: 'level', at: null }, points: [], gaps: [] }];
    expect(refused((survey) => changeFirst(survey, { lines }))).toMatch(
      /Line l1 in photo f1 has no position/,
    );
  });
  test('two marks at one place', () => {
    expect(
      refused((survey) => {
        const [mark, ...rest] = survey.photos[0]!.marks;
        return changeFirst(survey, {
          tapes: [],
          marks: [mark, { ...mark!, along: mark!.along + 500 }, ...rest],
        });
      }),
    ).toMatch(/Marks 1 and 2 of photo f1 are at one place/);
  });
  test('readings in one line', () => {
    expect(
      refused((survey) => ({
        ...oneLine(survey),
        readings: survey.readings.map((reading, k) => ({ ...reading, along: 300 + 400 * k, up: 1200 })),
      })),
    ).toMatch(/in one line/);
  });
  test('no such file, and an unclear command', () => {
    expect(runByNpm(join(folder, 'nowhere'), '--out', join(folder, 'x'))).toMatchObject({ status: 2 });
    expect(runHeadless('--out', join(folder, 'x')).stderr).toMatch(/^Say: headless/);
  });
});

describe('a photograph that cannot take part does not stop the others', () => {
  const place = join(folder, 'partly');
  const [out, survey] = [join(place, 'out'), join(place, 'survey.json')];

  test('a picture not there, one that is none: told, exit 0', () => {
    cpSync(sample, place, { recursive: true });
    const whole = readJson<Survey>(sample, 'survey.json');
    const photos = whole.photos
      .slice(0, 3)
      .map((photo, k) => (k === 0 ? { ...photo, file: 'photos/gone.jpg' } : photo));
    writeFileSync(survey, JSON.stringify({ ...whole, photos }));
    writeFileSync(join(place, 'photos/f2.jpg'), 'not a picture');
    expect(runHeadless(place, '--out', out)).toEqual({ status: 0, stderr: '' });
    const { warnings, profiles } = readJson<Result>(out, 'result.json');
    expect(warnings).toContainEqual({ code: 'photo_missing', subject: 'f1' });
    expect(warnings).toContainEqual({ code: 'photo_unreadable', subject: 'f2' });
    expect(profiles.map(({ s }) => s.length > 0)).toEqual([false, false, true]);
  });
  test('a tape not read yet is read where the picture is there, and no point is touched', () => {
    const found = readJson<Survey>(out, 'survey.json').photos[2]!;
    const unread = { ...found, tapes: found.tapes.map((tape) => ({ ...tape, read: undefined })) };
    const whole = readJson<Survey>(sample, 'survey.json');
    const gone = { ...unread, id: 'f9', file: 'photos/gone.jpg' };
    writeFileSync(survey, JSON.stringify({ ...whole, photos: [unread, gone] }));
    expect(runHeadless(place, '--out', out)).toEqual({ status: 0, stderr: '' });
    const [again, without] = readJson<Survey>(out, 'survey.json').photos;
    expect(found.tapes[0]!.read!.graduations.length).toBeGreaterThan(20);
    expect(again!.tapes).toEqual(found.tapes);
    expect(again!.lines).toEqual(found.lines);
    expect(without!.tapes[0]!.read).toBeUndefined();
    const { warnings } = readJson<Result>(out, 'result.json');
    expect(warnings.filter(({ subject }) => subject === 'f9')).toEqual([]);
  });
});

describe('a photograph without a laser', () => {
  const jpeg = join(folder, 'brick.jpg');
  const exif = { orientation: 1, focal35Mm: 26, focalMm: 4.3, takenAt: '2026:11:02 09:00:00' } as const;
  beforeAll(async () => {
    writeFileSync(jpeg, await encodePhotograph(takePhotograph(noLaserBrick()), 92, exif));
  }, 60_000);

  test('--find writes no line', () => {
    const out = join(folder, 'find');
    expect(runByNpm('--find', jpeg, '--out', out)).toEqual({ status: 0, stderr: '' });
    expect(readJson<{ lines: unknown[] }>(out, 'lines.json').lines).toEqual([]);
  });
  test('in a survey: the warning no_line, an empty profile, and no points', () => {
    const survey = parseSurvey(readFileSync(join(sample, 'survey.json'), 'utf8'));
    const photo = { ...survey.photos[0]!, marks: [], tapes: [] };
    const archive = packSurvey({
      survey: { ...survey, photos: [photo] },
      photos: new Map([[photo.file, new Uint8Array(readFileSync(jpeg))]]),
    });
    writeFileSync(join(folder, 'dark.zip'), archive);
    const out = join(folder, 'dark');
    expect(runHeadless(join(folder, 'dark.zip'), '--out', out)).toEqual({ status: 0, stderr: '' });
    const result = readJson<Result>(out, 'result.json');
    expect(result.warnings).toContainEqual({ code: 'no_line', subject: 'f1' });
    expect(result.profiles).toMatchObject([{ photo: 'f1', s: [], out: [] }]);
    expect(readJson<Survey>(out, 'survey.json').photos[0]!.lines[0]!.points).toEqual([]);
  });
});
