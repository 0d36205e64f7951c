import { describe, expect, test } from 'vitest';
import type { BoardAsBuilt, WorkStep } from '../../../src/core/liningPlan.ts';
import type { GaugeScrew } from '../../../src/core/results.ts';
import {
  addScrewLength,
  commonFromLaser,
  figureText,
  groupScrews,
  listScrewLengths,
  removeScrewLength,
  sayBoard,
  sayRange,
  sayServices,
  saySet,
  setAsBuilt,
} from '../../../src/ui/screws/screwSheet.ts';
import { makeSurvey } from '../../draw/walls.ts';

const survey = makeSurvey();
const screw = (id: string, fromLaser = 50): GaugeScrew => ({
  id,
  board: id.charAt(0),
  along: 100,
  up: 200,
  projection: 12,
  sigma: 0.8,
  fromLaser,
  zone: 'normal',
  screwMm: 60,
  services: null,
});

describe('the order of the sheet', () => {
  const screws = ['A1', 'A2', 'B1'].map((id) => screw(id));

  test('is that of the work; a screw that no step names comes last, none is lost or doubled', () => {
    const step = { stage: 'screws', of: ['B1', 'A2', 'B1'] } as unknown as WorkStep;
    const groups = groupScrews({ screws, work: [step] });
    expect(groups.map(({ board, screws: own }) => [board, own.map(({ id }) => id)])).toEqual([
      ['B', ['B1']],
      ['A', ['A2', 'A1']],
    ]);
  });

  test("is the plan's own where there is no order of work", () => {
    expect(groupScrews({ screws, work: [] }).flatMap((each) => each.screws)).toEqual(screws);
  });
});

test('one number for all heads only where a rule cannot tell them apart', () => {
  expect(commonFromLaser([screw('A1', 50), screw('A2', 50.2)])).toBeCloseTo(50.1, 9);
  expect(commonFromLaser([screw('A1', 50), screw('A2', 50.4)])).toBeNull();
  expect(commonFromLaser([])).toBeNull();
});

describe('what was really set', () => {
  test('is kept once per screw and ticks it off in the same change', () => {
    const first = setAsBuilt(survey, 'A1', 12.4);
    const second = setAsBuilt(first, 'A1', 11.9);
    expect(second.lining.asBuilt).toEqual([{ screw: 'A1', projection: 11.9 }]);
    expect(second.lining.done).toEqual(['A1']);
  });

  test('taken away leaves no list behind; the tick stays', () => {
    const cleared = setAsBuilt(setAsBuilt(survey, 'A1', 12.4), 'A1', null);
    expect(cleared.lining).toEqual({ ...survey.lining, done: ['A1'] });
  });

  test('out of tolerance says which way to turn the screw', () => {
    const set = { screw: 'A1', planned: 12, set: 14.2, offMm: 2.2, withinTolerance: false };
    expect(saySet(set, 'mm')).toEqual({ words: '2.2 mm too far out: turn it in', needs: true });
    expect(saySet({ ...set, offMm: -1.6 }, 'inch').words).toBe('1/16 in too deep: turn it out');
    expect(saySet({ ...set, offMm: 0.4, withinTolerance: true }, 'mm').needs).toBe(false);
  });
});

describe('the board on its screws', () => {
  const board: BoardAsBuilt = {
    board: 'A',
    state: 'binds',
    worst: { along: 640, up: 1200, byMm: -2.25 },
    next: [{ screw: 'A3', least: 11, most: 13.05 }],
  };

  test('that binds or rocks says where and by how much', () => {
    expect(sayBoard(board, 'mm')).toEqual({
      words: 'will bind on the masonry; worst 640 mm from the left, 1200 mm up, by 2.3 mm',
      needs: true,
    });
    expect(sayBoard({ ...board, state: 'good', worst: null }, 'mm').needs).toBe(false);
  });

  test('leaves a range for the screws to come', () => {
    expect(sayRange({ id: 'A3', projection: 9 }, [board], 'mm')).toBe('11.0 to 13.1 mm');
    expect(sayRange({ id: 'A3', projection: 12.03 }, [board], 'mm'), 'as planned').toBeNull();
    expect(sayRange({ id: 'A4', projection: 9 }, [board], 'mm')).toBeNull();
  });
});

test('why a screw may meet cables is said by what they run from', () => {
  expect(sayServices({ ...screw('A1'), services: 'b1' }, survey)).toBe(
    'cables or pipes likely, from socket b1',
  );
  expect(sayServices({ ...screw('A1'), services: 'top' }, survey)).toContain('ceiling');
  expect(sayServices(screw('A1'), survey)).toBeNull();
});

test('lengths of screw: the usual ones until one is added or taken away, then those named', () => {
  const usual = listScrewLengths(survey.lining);
  expect(usual.length).toBeGreaterThan(3);
  const more = addScrewLength(survey, 65);
  expect(more.lining.screwLengths).toEqual([...usual, 65].sort((a, b) => a - b));
  expect(removeScrewLength(more, 65).lining.screwLengths).toEqual(usual);
  expect(addScrewLength(survey, usual[0]!)).toBe(survey);
});

test('figures to set by: a tenth of a mm, a 32nd of an inch', () => {
  expect(figureText(42, 'mm')).toBe('42.0');
  expect(figureText(19.05, 'inch')).toBe('3/4');
  expect(figureText(19.05 + 0.8, 'inch')).toBe('25/32');
  expect(figureText(NaN, 'mm')).toBe('–');
});
