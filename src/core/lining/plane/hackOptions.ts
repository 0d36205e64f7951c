import type { HackOption } from '../../liningPlan.ts';
import type { Surface } from '../../results.ts';
import type { Lining, Wall, WallSpot } from '../../survey.ts';
import { powderOf } from '../adhesive.ts';
import { fitBedPlane, type BedFit } from '../bedPlane.ts';
import type { LiningSettings } from '../defaults.ts';
import { fillNodes } from '../nodeGrid.ts';
import type { Progress, ProgrammeSolver } from '../programme.ts';
import { measureZones } from '../zones.ts';
import { chooseSpots } from './chooseSpots.ts';
import { listHackedSpots } from './hackedSpots.ts';
import { allowRemoval, findHighSpots } from './highSpots.ts';
import { askBed, gatherNodes, spreadBed } from './wallNodes.ts';
import { gatherWishes } from './wishes.ts';

/** Most high spots that those to hack off are chosen from: enough to find the best few, few enough to search through. */
const candidatesMost = 24;

/**
 * What hacking off the best 0, 1, .. spots gives. The spots are chosen from discs about the high spots of the wall as it is; a number of spots that gains nothing over fewer is left out. Adhesive is reckoned with the whole mean bed
 * over the lined wall. Source: DEVELOPERS.md, "From surface to lining".
 */
export function planHackOptions(
  surface: Surface,
  wall: Wall,
  lining: Lining,
  settings: LiningSettings,
  solve: ProgrammeSolver,
  progress: Progress,
): HackOption[] {
  const nodes = gatherNodes(surface, askBed(surface, lining.bed.min, lining.plane?.sigmas ?? 0));
  const wishes = gatherWishes(lining, settings);
  const none = fitBedPlane(nodes, wishes, solve);
  const middles = findHighSpots(nodes, none.plane, settings.hackRadiusMm, candidatesMost).map(
    ({ along, up }): WallSpot => ({ along: Math.min(along, wall.width), up: Math.min(up, wall.height) }),
  );
  const describe = (fit: BedFit, spots: HackOption['spots'], proven: boolean): HackOption => {
    const { stepMm, nx, ny } = surface;
    const zones = measureZones(
      fillNodes({ stepMm, nx, ny, values: spreadBed(surface, nodes, fit) }),
      fillNodes({ stepMm, nx, ny, values: surface.sigma }),
      wall,
      lining.bed,
    );
    const linedM2 = zones.reduce((sum, { areaM2 }) => sum + areaM2, 0);
    const share = (of: 'packed' | 'beyond') => zones.find(({ zone }) => zone === of)?.share ?? 0;
    const adhesiveL = settings.coverageShare * fit.meanBedMm * linedM2;
    const standMm = (each: BedFit) => {
      const hacked = each.hackedMm.reduce((sum, mm) => sum + mm, 0) / each.hackedMm.length;
      return each.meanBedMm - hacked;
    };
    return {
      spots,
      meanBedMm: fit.meanBedMm,
      maxBedMm: fit.maxBedMm,
      overMaxShare: share('packed') + share('beyond'),
      overPackedShare: share('beyond'),
      adhesiveL,
      powderKg: powderOf(adhesiveL, settings),
      setKg: adhesiveL * settings.powderKgPerL * settings.setPerPowder,
      roomMm: standMm(none) - standMm(fit),
      proven,
    };
  };
  const removal = allowRemoval(nodes, middles, settings);
  const limit = { countMost: settings.hackSpotsMost, worthMm: settings.hackWorthMm };
  const options = [describe(none, [], true)];
  for (const { chosen, proven } of chooseSpots(nodes, wishes, middles, removal, solve, limit, progress)) {
    const picked = chosen.map((k) => middles[k]!).sort((a, b) => a.along - b.along || a.up - b.up);
    const fit = fitBedPlane(nodes, wishes, solve, allowRemoval(nodes, picked, settings));
    const spots = listHackedSpots(surface, wall, nodes, fit.hackedMm, picked);
    if (spots.length > options.at(-1)!.spots.length) options.push(describe(fit, spots, proven));
  }
  return options;
}
