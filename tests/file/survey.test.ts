import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Refused, type Refusal } from '../../src/core/refusal.ts';
import { parseSurvey, writeSurvey } from '../../src/file/survey.ts';
import { contractObject, contractText } from './contract.ts';

function refusalOf(given: unknown, file?: string): Refusal {
  try {
    parseSurvey(given, file);
  } catch (thrown) {
    if (thrown instanceof Refused) return thrown.refusal;
    throw thrown;
  }
  throw new Error('expected a refusal, got a survey');
}

/** The contract's survey with the value at `path` replaced, or taken away where `value` is undefined. */
function changed(path: string, value: unknown): unknown {
  const root = contractObject();
  const keys = path.split('.');
  const last = keys.pop()!;
  const place = keys.reduce<Record<string, unknown>>((at, key) => at[key] as Record<string, unknown>, root);
  if (value === undefined) delete place[last];
  else place[last] = value;
  return root;
}

describe('reading', () => {
  test("the contract's survey opens as it is", () => {
    expect(parseSurvey(contractText)).toEqual(contractObject());
  });

  test('text and value read alike, with or without a byte order mark', () => {
    expect(parseSurvey(contractObject())).toEqual(parseSurvey(contractText));
    expect(parseSurvey(`\uFEFF${contractText}`)).toEqual(parseSurvey(contractText));
  });

  test('unknown keys are kept at every level', () => {
    const strange = contractText
      .replace('"title"', '"weather": { "rain": [1, 2] }, "title"')
      .replace('"kind": "window"', '"kind": "window", "lintel": "oak"')
      .replace('"state": "found"', '"state": "found", "peak": 211')
      .replace('"thickness": 12.5', '"thickness": 12.5, "edge": "tapered"')
      .replace('"packedMax": 40', '"packedMax": 40, "note": null');
    const survey = parseSurvey(strange);
    expect(survey).toEqual(JSON.parse(strange));
    expect(JSON.parse(writeSurvey(survey))).toEqual(JSON.parse(strange));
  });

  test('what may be missing gets its usual value', () => {
    const bare = {
      format: 'bedplane-survey',
      version: 1,
      wall: { width: 3000, height: 2400, openings: [{ id: 'o1', along: 0, up: 0, width: 10, height: 10 }] },
      phones: [{ id: 'p' }, { id: 'q', lens: {} }],
      readings: [{ id: 'r', along: 1, up: 2, distance: 60 }],
      photos: [
        {
          id: 'f',
          file: 'f.jpg',
          phone: 'p',
          marks: [{ u: 1, v: 2, along: 3, up: 4 }],
          lines: [{ id: 'l', colour: 'red', sheet: { axis: 'plumb' }, points: [{ u: 1, v: 2 }] }],
        },
        { id: 'g', file: 'g.jpg', phone: 'p', stand: { off: 2000 }, marks: null },
      ],
    };
    const survey = parseSurvey(bare);
    expect(survey).toMatchObject({ title: '', units: 'mm' });
    expect(survey.wall).toMatchObject({ side: 'internal', boxes: [] });
    expect(survey.wall.openings[0]!.kind).toBe('opening');
    expect(survey.phones.map((phone) => phone.lens)).toEqual([
      { k1: null, sigma: 0.01 },
      { k1: null, sigma: 0.01 },
    ]);
    expect(survey.readings[0]!.sigma).toBe(0.7);
    const [first, second] = survey.photos;
    expect(first!.stand).toEqual({ off: null, up: null, along: null, sigma: 10 });
    expect(first).toMatchObject({ tapes: [], masks: [] });
    expect(first!.marks[0]!.sigma).toBe(1);
    expect(first!.lines[0]).toMatchObject({ sheet: { axis: 'plumb', at: null }, gaps: [] });
    expect(first!.lines[0]!.points[0]).toEqual({ u: 1, v: 2, sigma: 0.1, state: 'found' });
    expect(second).toMatchObject({ marks: [], lines: [], stand: { off: 2000, up: null, sigma: 10 } });
    expect(survey.lining).toEqual({
      board: { width: 1200, length: 2400, thickness: 12.5 },
      bed: { min: 5, max: 20, packedMax: 40 },
    });
  });

  test('a bed deeper than the usual packing limit raises that limit when it is not given', () => {
    expect(parseSurvey(changed('lining.bed', { max: 50 })).lining.bed).toEqual({
      min: 5,
      max: 50,
      packedMax: 50,
    });
  });

  test('gaps may be pairs', () => {
    const survey = parseSurvey(changed('photos.0.lines.0.gaps', [[3, 9], { from: 20, to: 30 }]));
    expect(survey.photos[0]!.lines[0]!.gaps).toEqual([
      { from: 3, to: 9 },
      { from: 20, to: 30 },
    ]);
  });

  test('a key that would reach into every object does not', () => {
    parseSurvey(contractText.replace('"title"', '"__proto__": { "poisoned": true }, "title"'));
    expect('poisoned' in {}).toBe(false);
  });
});

describe('refusals', () => {
  test('broken JSON is survey_not_json', () => {
    expect(refusalOf(contractText.slice(0, 200), 'wall.json')).toEqual({
      code: 'survey_not_json',
      file: 'wall.json',
    });
  });

  test.each([['"text"'], ['[1, 2]'], ['null'], ['{}'], ['{ "format": "another", "version": 1 }']])(
    '%s is survey_not_ours',
    (text) => expect(refusalOf(text).code).toBe('survey_not_ours'),
  );

  test('a version from the future is survey_too_new', () => {
    expect(refusalOf(changed('version', 2))).toEqual({ code: 'survey_too_new', version: 2, known: 1 });
  });

  test.each<[string, unknown, string, string]>([
    ['version', 0, 'version', 'must be a whole number from 1'],
    ['version', '1', 'version', 'must be a whole number from 1'],
    ['wall', undefined, 'wall', 'is missing'],
    ['wall.width', undefined, 'wall.width', 'is missing'],
    ['wall.width', '3600', 'wall.width', 'must be a number, is text'],
    ['wall.width', null, 'wall.width', 'must be a number, is null'],
    ['wall.width', 0, 'wall.width', 'must be at least 100'],
    ['wall.height', 1e9, 'wall.height', 'must be at most 100000'],
    ['wall.height', Infinity, 'wall.height', 'is not a finite number'],
    ['wall.side', 'north', 'wall.side', 'must be internal or external or party'],
    ['wall.openings', {}, 'wall.openings', 'must be a list, is a group of fields'],
    ['wall.openings.0.width', -1, 'wall.openings[0].width', 'must be more than 0'],
    ['units', 'ell', 'units', 'must be mm or inch'],
    ['photos.0.marks.0.u', [], 'photos[0].marks[0].u', 'must be a number, is a list'],
    ['photos.0.marks.0.sigma', 0, 'photos[0].marks[0].sigma', 'must be more than 0'],
    ['photos.0.lines.0.points.0.state', 'lost', 'photos[0].lines[0].points[0].state', ''],
    ['photos.0.lines.0.gaps', ['none'], 'photos[0].lines[0].gaps[0]', 'must be a group of fields, is text'],
    ['photos.0.tapes.0.to', 2, 'photos[0].tapes[0].to', 'there is no mark 2'],
    ['photos.0.tapes.0.to', 0, 'photos[0].tapes[0].to', 'must be another mark than from'],
    ['photos.0.tapes.0.to', 0.5, 'photos[0].tapes[0].to', 'must be a whole number, is a number'],
    ['photos.0.phone', 'p2', 'photos[0].phone', 'there is no phone "p2"'],
    ['photos.0.file', '../../secret.jpg', 'photos[0].file', 'must be a path inside the folder of the survey'],
    [
      'photos.0.file',
      'C:\\pictures\\a.jpg',
      'photos[0].file',
      'must be a path inside the folder of the survey',
    ],
    ['photos.0.file', '', 'photos[0].file', 'must not be empty'],
    ['readings.0.id', 7, 'readings[0].id', 'must be text, is a number'],
    [
      'readings',
      [
        { id: 'r', along: 1, up: 1, distance: 1 },
        { id: 'r', along: 2, up: 1, distance: 1 },
      ],
      'readings[1].id',
      '"r" is already taken',
    ],
    ['lining.bed.max', 4, 'lining.bed.max', 'must not be below lining.bed.min'],
    ['lining.bed.packedMax', 15, 'lining.bed.packedMax', 'must not be below lining.bed.max'],
    ['phones', undefined, 'photos[0].phone', 'there is no phone "p1"'],
  ])('%s = %j is survey_field_wrong at %s', (path, value, at, problem) => {
    const refusal = refusalOf(changed(path, value));
    expect(refusal).toMatchObject({ code: 'survey_field_wrong', path: at });
    if (problem !== '') expect(refusal).toMatchObject({ problem });
  });

  test('a number too large for a double is refused', () => {
    expect(refusalOf(contractText.replace('3600', '1e999'))).toMatchObject({ path: 'wall.width' });
  });
});

describe('writing', () => {
  test('what is written reads back the same, and writes the same again', () => {
    const survey = parseSurvey(contractText);
    const text = writeSurvey(survey);
    expect(parseSurvey(text)).toEqual(survey);
    expect(writeSurvey(parseSurvey(text))).toBe(text);
  });

  test('keys come in a fixed order, whatever the order in memory', () => {
    const survey = parseSurvey(contractText);
    const backwards = (value: unknown): unknown => {
      if (Array.isArray(value)) return value.map(backwards);
      if (typeof value !== 'object' || value === null) return value;
      return Object.fromEntries(
        Object.entries(value)
          .reverse()
          .map(([key, item]) => [key, backwards(item)]),
      );
    };
    expect(writeSurvey(backwards(survey) as typeof survey)).toBe(writeSurvey(survey));
  });

  test('image points are rounded to 0.001 px and points stand one to a line', () => {
    const survey = parseSurvey(contractText);
    const [photo] = survey.photos;
    const line = {
      ...photo!.lines[0]!,
      points: [{ u: 1 / 3, v: 2080, sigma: 0.123456, state: 'found' as const }],
    };
    const text = writeSurvey({ ...survey, photos: [{ ...photo!, lines: [line] }] });
    expect(text).toContain('{ "u": 0.333, "v": 2080, "sigma": 0.123, "state": "found" }\n');
  });

  test('law: any finite picture point comes back within half a thousandth of a pixel', () => {
    const survey = parseSurvey(contractText);
    const [photo] = survey.photos;
    const px = fc.double({ min: -1e5, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(px, px, (u, v) => {
        const marks = photo!.marks.map((mark) => ({ ...mark, u, v }));
        const back = parseSurvey(writeSurvey({ ...survey, photos: [{ ...photo!, marks }] })).photos[0]!
          .marks[0]!;
        expect(Math.abs(back.u - u)).toBeLessThanOrEqual(0.000501);
        expect(Math.abs(back.v - v)).toBeLessThanOrEqual(0.000501);
      }),
      { seed: 7, numRuns: 50 },
    );
  });
});
