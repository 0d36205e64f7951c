import { describe, expect, test } from 'vitest';
import { planLining } from '../../../src/core/lining/planLining.ts';
import type { Board, GaugeScrew, LiningPlan } from '../../../src/core/results.ts';
import { checkPlan } from './checkPlan.ts';
import { makeCase, windowWall } from './walls.ts';
import { solver } from '../../solver.ts';

const { survey, surface } = makeCase(windowWall);
const plan = planLining(survey, surface, solver);
const spoil = (change: Partial<LiningPlan>) => checkPlan(survey, surface, { ...plan, ...change });
const spoilBoard = (k: number, change: Partial<Board>) =>
  spoil({ boards: plan.boards.map((board, i) => (i === k ? { ...board, ...change } : board)) }).join('\n');
const spoilScrew = (change: Partial<GaugeScrew>) =>
  spoil({ screws: plan.screws.map((screw, i) => (i === 1 ? { ...screw, ...change } : screw)) }).join('\n');

describe('the checker', () => {
  test('finds no fault with a sound plan', () => expect(spoil({})).toEqual([]));
  test('sees a plane that is too near, and one that is too far', () => {
    expect(spoil({ bedPlane: { ...plan.bedPlane, p: plan.bedPlane.p - 0.1 } }).join()).toContain('under 5');
    expect(spoil({ bedPlane: { ...plan.bedPlane, p: plan.bedPlane.p + 0.1 } }).join()).toContain(
      'plane is not optimal',
    );
  });
  test('sees a board moved, missing, twice there, or over the window', () => {
    expect(spoilBoard(0, { along: -5 })).toContain('reaches outside');
    expect(spoilBoard(0, { along: 20 })).toContain('2 boards at');
    expect(spoilBoard(1, { cutouts: [] })).toContain('over an opening');
    expect(spoil({ boards: plan.boards.slice(1) }).join()).toContain('no board at');
    expect(spoilBoard(2, { width: 1300 })).toContain('larger than the stock');
  });
  test('sees a screw off its board, by the box, off the plane or of the wrong length', () => {
    expect(spoilScrew({ along: 1190 })).toContain('not well under');
    expect(spoilScrew({ along: 440, up: 340 })).toContain('near a box');
    expect(spoilScrew({ fromLaser: 0 })).toContain('not on the bed plane');
    expect(spoilScrew({ projection: 4 })).toContain('projects 4');
    expect(spoilScrew({ id: 'A1' })).toContain('two screws of one name');
  });
  test('sees zones and adhesive that do not add up', () => {
    expect(
      spoil({ zones: plan.zones.map((zone) => ({ ...zone, areaM2: zone.areaM2 / 2 })) }).join(),
    ).toContain('zones cover');
    expect(spoil({ adhesive: { ...plan.adhesive, volumeL: 1 } }).join()).toContain('volumes: expected');
    expect(spoil({ adhesive: { ...plan.adhesive, bags: 9 } }).join()).toContain('too many bags');
  });
});
