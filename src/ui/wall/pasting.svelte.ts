import type { NewReading } from '../../app/editReadings.ts';
import type { Survey } from '../../core/survey.ts';
import { readReadings, type WrongRow } from './readingText.ts';

/** Rows pasted into the readings: those read are taken over, the others stay as text to be corrected. */
export class Pasting {
  text = $state('');
  wrong = $state.raw<readonly WrongRow[]>([]);
  /** How many rows the last paste brought; null before any. */
  taken = $state.raw<number | null>(null);
  open = $state(false);

  /** Reads rows: what can be read goes to `onTake` at once, what cannot stays in `text` under its head. */
  take(text: string, survey: Survey, onTake: (readings: readonly NewReading[]) => void): void {
    const { readings, wrong, head } = readReadings(text, survey);
    this.wrong = wrong;
    this.taken = readings.length;
    const left = wrong.map((row) => row.text);
    this.text = (left.length > 0 && head !== '' ? [head, ...left] : left).join('\n');
    if (wrong.length > 0) this.open = true;
    if (readings.length > 0) onTake(readings);
  }

  /** Rows pasted into the table: after those that are still to be corrected. */
  add(text: string, survey: Survey, onTake: (readings: readonly NewReading[]) => void): void {
    const before = this.text;
    this.take(text, survey, onTake);
    this.text = [before, this.text].filter((each) => each !== '').join('\n');
  }
}
