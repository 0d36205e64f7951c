import { expect, test } from 'vitest';
import { addBlock, BLOCK_SIGMA_MM, removeBlock, setBlock } from '../../src/app/editBlocks.ts';
import { setLens } from '../../src/app/editPhones.ts';
import { recordStep, redoStep, startHistory, undoStep } from '../../src/app/history.ts';
import { parseSurvey, writeSurvey } from '../../src/file/survey.ts';
import { makeSurvey } from '../truth/survey.ts';

const { survey } = makeSurvey(1, 'plaster', { levels: [750], plumbs: [], everyPx: 40 });
const line = survey.photos[0]!.lines[0]!.id;
const blocksOf = (each: typeof survey) => each.photos[0]!.blocks ?? [];

test('a packer dragged backwards is put the right way round; one of no length is none', () => {
  const one = addBlock(survey, 'f1', line, 900, 820, 12);
  expect(blocksOf(one)).toEqual([{ line, from: 820, to: 900, thickness: 12, sigma: BLOCK_SIGMA_MM }]);
  expect(addBlock(survey, 'f1', line, 900, 900, 12)).toBe(survey);
  expect(blocksOf(survey)).toEqual([]);
});

test('thickness and sigma are changed one by one, and a packer is taken away by its number', () => {
  const two = addBlock(addBlock(survey, 'f1', line, 0, 50, 12), 'f1', line, 100, 150, 25);
  const set = setBlock(setBlock(two, 'f1', 1, { thickness: 24.5 }), 'f1', 1, { sigma: 0.1 });
  expect(blocksOf(set).map(({ thickness, sigma }) => [thickness, sigma])).toEqual([
    [12, BLOCK_SIGMA_MM],
    [24.5, 0.1],
  ]);
  expect(blocksOf(removeBlock(set, 'f1', 0))).toEqual([blocksOf(set)[1]]);
  expect(() => removeBlock(set, 'f1', 2)).toThrow('packer');
  expect(() => setBlock(survey, 'f1', 0, { sigma: 1 })).toThrow('packer');
});

test('every edit is one step, undone and done again to the very value', () => {
  let history = startHistory(survey);
  const values = [survey];
  for (const edit of [
    (each: typeof survey) => addBlock(each, 'f1', line, 0, 50, 12),
    (each: typeof survey) => setBlock(each, 'f1', 0, { thickness: 13 }),
    (each: typeof survey) => removeBlock(each, 'f1', 0),
  ]) {
    history = recordStep(history, edit(history.present), null);
    values.push(history.present);
  }
  for (const value of values.toReversed().slice(1)) {
    history = undoStep(history);
    expect(history.present).toBe(value);
  }
  for (const value of values.slice(1)) {
    history = redoStep(history);
    expect(history.present).toBe(value);
  }
});

test('packers and a checked lens live through the file; keys beyond stay', () => {
  const known = { ...survey.phones[0]!.lens, maker: 'kept' };
  const phones = [{ ...survey.phones[0]!, lens: known }];
  const edited = setLens(addBlock({ ...survey, phones }, 'f1', line, 0, 50, 12), 'p1', {
    k1: -0.0061,
    sigma: 0.0004,
    from: 'check',
  });
  const read = parseSurvey(writeSurvey(edited));
  expect(read.phones[0]!.lens).toEqual({ k1: -0.0061, sigma: 0.0004, from: 'check', maker: 'kept' });
  expect(blocksOf(read)).toEqual(blocksOf(edited));
  expect(() => setLens(survey, 'p9', { k1: 0, sigma: 1 })).toThrow('p9');
});

test('a lens of a file without an origin has none', () => {
  const read = parseSurvey(writeSurvey(survey));
  expect(read.phones[0]!.lens.from).toBeUndefined();
  expect(JSON.stringify(read.phones[0])).not.toContain('from');
});
