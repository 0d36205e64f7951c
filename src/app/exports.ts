import { drawPlan } from '../draw/plan.ts';
import { toSvg } from '../draw/tree.ts';
import { packSurvey } from '../file/archive.ts';
import { listPictureFiles } from '../file/pictureFiles.ts';
import { writeCutsCsv } from '../file/cutsCsv.ts';
import { writeScrewsCsv } from '../file/screwsCsv.ts';
import type { MadeFile } from './deliver.ts';
import type { Session } from './session.svelte.ts';
import type { Solved } from './solved.ts';
import { stopOf } from './stops.ts';
import type { Answer } from './workers.ts';

export const exportKinds = ['pdf', 'png', 'svg', 'csv', 'cuts', 'zip'] as const;
export type ExportKind = (typeof exportKinds)[number];

/** Long side of the exported picture, px: A4 at about 300 dots per inch. */
const PICTURE_PX = 3500;

/**
 * A file name from a survey's title.
 * @example fileName('Store, north wall', 'pdf') // 'Store-north-wall.pdf'
 */
export function fileName(title: string, ending: string): string {
  const stem = title
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60);
  return `${stem || 'survey'}.${ending}`;
}

/** Makes one export of the open survey; drawings and lists need a result. `note`: version and date for the title block. */
export async function makeExport(
  kind: ExportKind,
  session: Session,
  solved: Solved | null,
  note: string,
): Promise<Answer<MadeFile>> {
  const { survey } = session;
  if (!survey) return { ok: false, stop: { code: 'export_failed', what: kind } };
  try {
    const blob = kind === 'zip' ? await makeZip(session) : await makePaper(kind, solved, note);
    // two lists of one survey must not overwrite each other
    const name = kind === 'cuts' ? fileName(`cuts ${survey.title}`, 'csv') : fileName(survey.title, kind);
    return { ok: true, value: { name, blob } };
  } catch (thrown) {
    return { ok: false, stop: stopOf(thrown) };
  }
}

async function makePaper(
  kind: Exclude<ExportKind, 'zip'>,
  solved: Solved | null,
  note: string,
): Promise<Blob> {
  if (!solved?.plan) throw new Error('no plan');
  const { of: survey, solution, plan } = solved;
  if (kind === 'csv') return new Blob([writeScrewsCsv(plan)], { type: 'text/csv' });
  if (kind === 'cuts') return new Blob([writeCutsCsv(plan)], { type: 'text/csv' });
  const drawing = drawPlan({ survey, surface: solution.surface, plan }, { note });
  if (kind === 'svg') return new Blob([toSvg(drawing)], { type: 'image/svg+xml' });
  if (kind === 'png') return makePng(toSvg(drawing));
  const { writePlanPdf } = await import('../file/pdf.ts');
  const pdf = writePlanPdf(drawing, { title: survey.title, createdAt: new Date().toISOString() });
  return new Blob([pdf.slice()], { type: 'application/pdf' });
}

async function makeZip(session: Session): Promise<Blob> {
  const { survey } = session;
  if (!survey) throw new Error('no survey');
  const photos = new Map<string, Uint8Array>();
  for (const file of listPictureFiles(survey)) {
    const bytes = await session.readPhoto(file);
    if (bytes) photos.set(file, new Uint8Array(bytes));
  }
  return new Blob([packSurvey({ survey, photos }).slice()], { type: 'application/zip' });
}

/** Draws the text of an SVG into a PNG. */
async function makePng(text: string): Promise<Blob> {
  const url = URL.createObjectURL(new Blob([text], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const scale = PICTURE_PX / Math.max(image.naturalWidth, image.naturalHeight);
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(image.naturalWidth * scale);
    canvas.height = Math.round(image.naturalHeight * scale);
    canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) =>
      canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error('no canvas'))), 'image/png'),
    );
  } finally {
    URL.revokeObjectURL(url);
  }
}
