import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Survey } from '../../src/core/survey.ts';
import { drawPhotoMap } from '../../src/draw/photoMap.ts';
import { listTexts, toSvg } from '../../src/draw/tree.ts';

const survey = JSON.parse(
  readFileSync(new URL('../../samples/dairy-north-wall/survey.json', import.meta.url), 'utf8'),
) as Survey;
const photo = survey.photos[1]!;

test('the line at its height, every mark with its number, the place asked for and the phone', () => {
  const bare = drawPhotoMap({ survey, photo, asked: null, phone: null });
  const texts = listTexts(bare);
  expect(texts).toContain('750 mm');
  for (let number = 1; number <= photo.marks.length; number++) expect(texts).toContain(String(number));
  const svg = (asked: boolean, phone: boolean) =>
    toSvg(
      drawPhotoMap({
        survey,
        photo,
        asked: asked ? { along: 1500, up: 2000 } : null,
        phone: phone ? { along: 9000, up: 1400 } : null,
      }),
    );
  const circles = (text: string) => text.match(/<circle/g)?.length ?? 0;
  expect(circles(svg(true, false)) - circles(svg(false, false))).toBe(2);
  // a phone beyond the wall's end stays on the map
  const [, x] = /<rect x="([\d.]+)" y="[\d.]+" width="8"/.exec(svg(false, true)) ?? [];
  expect(Number(x)).toBeLessThanOrEqual(340 - 8);
});

test('a photo of which nothing is known shows the wall alone', () => {
  const nothing = {
    ...photo,
    marks: [],
    tapes: [],
    lines: [{ ...photo.lines[0]!, sheet: { axis: 'level', at: null } }],
  } as const;
  expect(
    listTexts(drawPhotoMap({ survey, photo: nothing, asked: null, phone: null })).join(' '),
  ).not.toContain('750');
});
