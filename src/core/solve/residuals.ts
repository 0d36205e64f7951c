import { projectPoint } from '../camera/projection.ts';
import type { Warning } from '../refusal.ts';
import type { Residual } from '../results.ts';
import type { LaserLine, Survey } from '../survey.ts';
import type { NetworkState } from './linearize.ts';
import { indexLine, indexStation, LINE_UNKNOWNS, STATION_UNKNOWNS, type Network } from './network.ts';
import type { FailedTest, Task } from './settle.ts';
import { compareToLimit, type TestedObservation } from './snoop.ts';

/** The id by which a line is named: its own where no other line has it, else with its photo's before it. */
export function nameLine(survey: Survey, photoId: string, line: LaserLine): string {
  const same = survey.photos.flatMap((photo) => photo.lines).filter((other) => other.id === line.id);
  return same.length === 1 ? line.id : `${photoId}/${line.id}`;
}

type Named = Pick<Residual, 'kind' | 'subject' | 'part' | 'index'> & {
  /** mm of the wall per unit of the observation. */
  readonly mmPerUnit: number;
};

/** What a tested observation is about, in the user's terms. */
function nameEvidence(
  survey: Survey,
  network: Network,
  state: NetworkState,
  { observation }: TestedObservation,
): Named {
  const { kind, subject } = observation;
  if (kind === 'reading')
    return { kind, subject: network.readings[subject]!.id, part: 'distance', mmPerUnit: 1 };
  if (kind === 'mark') {
    const { station, photo, mark, index } = network.marks[subject]!;
    const { along, up, only } = mark;
    const image = projectPoint(state.cameras[station]!, { along, up, out: state.offsetAt(along, up) });
    const axis =
      only ?? (Math.abs(observation.factors[0]!) > Math.abs(observation.factors[1]!) ? 'along' : 'up');
    const at = axis === 'along' ? 0 : 1;
    const perMm = image ? Math.hypot(image.byPoint[at]!, image.byPoint[3 + at]!) : NaN;
    return { kind, subject: photo.id, part: axis, index, mmPerUnit: 1 / perMm };
  }
  if (kind === 'block') {
    const { line, seen } = network.blocks[subject]!;
    const { photo } = network.lines[line]!;
    const index = (photo.blocks ?? []).indexOf(seen.block);
    return { kind, subject: photo.id, part: 'thickness', index, mmPerUnit: 1 };
  }
  const sheets = indexLine(network, 0);
  if (subject >= sheets) {
    const seen = network.lines[Math.floor((subject - sheets) / LINE_UNKNOWNS)]!;
    const isTilt = (subject - sheets) % LINE_UNKNOWNS === 1;
    return {
      kind: 'line',
      subject: nameLine(survey, seen.photo.id, seen.line),
      part: isTilt ? 'tilt' : 'shift',
      mmPerUnit: isTilt ? seen.halfLengthMm : 1,
    };
  }
  const unknown = subject - indexStation(network, 0);
  const { photo, photos } = network.stations[Math.floor(unknown / STATION_UNKNOWNS)]!;
  const part = (['along', 'up', 'off'] as const)[unknown % STATION_UNKNOWNS]!;
  const from = photos.find(({ stand }) => stand[part] !== null) ?? photo;
  return { kind: 'stand', subject: from.id, part, mmPerUnit: 1 };
}

/**
 * The error that explains a test, in the observation's unit: v / r; of what was left out all that it lies off; of several that cannot be
 * told apart the one that each would have alone, which its weight was taken from (snoop.ts). NaN where nothing checks it.
 */
function findError({ observation, test }: TestedObservation, failed: FailedTest | undefined): number {
  if (failed?.unsure)
    return (Math.sign(failed.test?.w ?? test.w) * observation.sigma) / Math.sqrt(failed.weight);
  if (failed) return test.residual;
  return test.redundancy > 0 ? test.residual / test.redundancy : NaN;
}

/** How every reading, line, mark, stand and packer stands against the rest; what was left out: against all that took part. */
export function listResiduals(
  survey: Survey,
  { network, leftOut }: Task,
  state: NetworkState,
  tests: readonly TestedObservation[],
): Residual[] {
  return tests.map((tested): Residual => {
    const { mmPerUnit, ...named } = nameEvidence(survey, network, state, tested);
    const failed = leftOut.get(tested.name);
    const { residual, redundancy, detectable } = tested.test;
    const w = failed?.test?.w ?? tested.test.w;
    return {
      ...named,
      residualMm: residual * mmPerUnit,
      sigmaMm: tested.observation.sigma * mmPerUnit,
      w,
      redundancy,
      detectableMm: Number.isFinite(detectable) ? detectable * mmPerUnit : NaN,
      errorMm: findError(tested, failed) * mmPerUnit,
      state: failed
        ? failed.byHand
          ? 'by_hand'
          : failed.unsure
            ? 'unsure'
            : 'left_out'
        : compareToLimit(tested) > 1
          ? 'suspect'
          : 'used',
    };
  });
}

const codes = {
  reading: 'reading_suspect',
  line: 'line_suspect',
  mark: 'marks_suspect',
  stand: 'stand_suspect',
  block: 'block_suspect',
} as const satisfies Record<Residual['kind'], Warning['code']>;

/** Warnings naming the readings, lines and photos (by their marks or stand) whose test fails. */
export function warnOfSuspects(residuals: readonly Residual[]): Warning[] {
  return residuals
    .filter(({ state }) => state !== 'used' && state !== 'by_hand')
    .map(({ kind, subject }) => ({ code: codes[kind], subject }));
}
