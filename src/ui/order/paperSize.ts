import { wrapText } from '../../draw/text.ts';

const PT_PER_MM = 72 / 25.4;
/** A4 upright with the margins, head and columns of the printed page (WorkPart.svelte, StepRow.svelte). */
const page = {
  heightMm: 297 - 2 * 9,
  headMm: 20,
  columns: 2,
  textMm: (210 - 2 * 10 - 6) / 2 - 11,
  insetMm: 3,
};
/** Line height and size of cautions against the text, as in the styles. */
const LINE = 1.22;
const CAUTION = 0.9;
/** Letters from the largest to the smallest that is read at arm's length, pt: own choice. */
const sizesPt = [9, 8.5, 8, 7.5, 7];
/** Left empty at the foot of columns, since a step is not torn apart. */
const tornMm = 14;

/** What stands on the page: a stage's name, or a step with what is said under it. */
export type PaperLine =
  { readonly stage: string } | { readonly step: string; readonly under: readonly string[] };

/** Height (mm) that the lines take in one column, set in letters of a size (pt). */
export function measureLines(lines: readonly PaperLine[], sizePt: number): number {
  const linesOf = (text: string, widthMm: number, pt: number) =>
    wrapText(text, widthMm * PT_PER_MM, pt).length * pt * LINE;
  return lines.reduce((sumMm, line) => {
    if ('stage' in line) return sumMm + (1.1 * sizePt * LINE) / PT_PER_MM + 1.5;
    const { textMm, insetMm } = page;
    const stepPt = linesOf(line.step, textMm, sizePt);
    const underPt = line.under.reduce(
      (sum, text) => sum + linesOf(text, textMm - insetMm, CAUTION * sizePt),
      0,
    );
    return sumMm + (stepPt + underPt) / PT_PER_MM + 1.4 + 0.3 * line.under.length;
  }, 0);
}

/** The largest letters (pt) with which all lines stand on one page; the largest of all where none does, on more pages. */
export function fitPaper(lines: readonly PaperLine[]): number {
  const roomMm = page.columns * (page.heightMm - page.headMm - tornMm);
  return sizesPt.find((sizePt) => measureLines(lines, sizePt) <= roomMm) ?? sizesPt[0]!;
}
