import type { Warning } from '../refusal.ts';
import type { Residual } from '../results.ts';
import type { LaserLine, Survey } from '../survey.ts';
import { indexLine, indexStation, LINE_UNKNOWNS, STATION_UNKNOWNS, type Network } from './network.ts';
import type { Task } from './settle.ts';
import { compareToLimit, type TestedObservation } from './snoop.ts';

/** The id by which a line is named: its own where no other line has it, else with its photo's before it. */
export function nameLine(survey: Survey, photoId: string, line: LaserLine): string {
  const same = survey.photos.flatMap((photo) => photo.lines).filter((other) => other.id === line.id);
  return same.length === 1 ? line.id : `${photoId}/${line.id}`;
}

/** Index of the line or station that a tested prior belongs to. */
function findOwner(network: Network, unknown: number): { line: number } | { station: number } {
  const sheets = indexLine(network, 0);
  return unknown >= sheets
    ? { line: Math.floor((unknown - sheets) / LINE_UNKNOWNS) }
    : { station: Math.floor((unknown - indexStation(network, 0)) / STATION_UNKNOWNS) };
}

/**
 * Standardised residuals (of what was left out: as it failed) of all readings and all photographed lines. A reading's residual is measured less solved offset
 * (mm); a line's is its sheet's misfit, shift or tilt over half its length, whichever fails more (mm of the sheet).
 */
export function listResiduals(
  survey: Survey,
  { network, leftOut }: Task,
  tests: readonly TestedObservation[],
): Residual[] {
  const findW = ({ name, test }: TestedObservation) => leftOut.get(name)?.test.w ?? test.w;
  const readings = tests
    .filter(({ observation }) => observation.kind === 'reading')
    .map((tested): Residual => {
      const reading = network.readings[tested.observation.subject]!;
      return { kind: 'reading', subject: reading.id, residualMm: tested.test.residual, w: findW(tested) };
    });
  const lines = network.lines.map((seen, line): Residual => {
    const first = indexLine(network, line);
    const own = tests.filter(
      ({ observation: { kind, subject } }) =>
        kind === 'prior' && (subject === first || subject === first + 1),
    );
    const worst = own.reduce((a, b) => (Math.abs(findW(b)) > Math.abs(findW(a)) ? b : a));
    const isTilt = worst.observation.subject === first + 1;
    return {
      kind: 'line',
      subject: nameLine(survey, network.stations[seen.station]!.photo.id, seen.line),
      residualMm: worst.test.residual * (isTilt ? seen.halfLengthMm : 1),
      w: findW(worst),
    };
  });
  return [...readings, ...lines];
}

/** Warnings naming the readings, lines and photos (by their marks or stand) whose test fails. */
export function warnOfSuspects(
  survey: Survey,
  { network, leftOut }: Task,
  tests: readonly TestedObservation[],
): Warning[] {
  return tests
    .filter((tested) => leftOut.has(tested.name) || compareToLimit(tested) > 1)
    .map(({ observation: { kind, subject } }): Warning => {
      if (kind === 'reading') return { code: 'reading_suspect', subject: network.readings[subject]!.id };
      if (kind === 'mark')
        return {
          code: 'marks_suspect',
          subject: network.stations[network.marks[subject]!.station]!.photo.id,
        };
      if (kind === 'block') {
        const { station } = network.lines[network.blocks[subject]!.line]!;
        return { code: 'block_suspect', subject: network.stations[station]!.photo.id };
      }
      const owner = findOwner(network, subject);
      if ('station' in owner)
        return { code: 'marks_suspect', subject: network.stations[owner.station]!.photo.id };
      const seen = network.lines[owner.line]!;
      return {
        code: 'line_suspect',
        subject: nameLine(survey, network.stations[seen.station]!.photo.id, seen.line),
      };
    });
}
