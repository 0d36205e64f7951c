/** Names that a browser gives to a picture that has none. */
const NAMELESS = /^(|image\.\w+|blob)$/i;

/** Whether something dragged over the page holds files, not text or a part of the page. */
export function holdsFiles(transfer: Pick<DataTransfer, 'types'> | null): boolean {
  return transfer !== null && [...transfer.types].includes('Files');
}

/**
 * A name for a pasted picture that has none, by its MIME type.
 * @example nameHanded('', 'image/png') // 'pasted.png'
 * @example nameHanded('IMG_7.jpg', 'image/jpeg') // 'IMG_7.jpg'
 */
export function nameHanded(name: string, mimeType: string): string {
  if (!NAMELESS.test(name)) return name;
  return `pasted.${mimeType === 'image/png' ? 'png' : 'jpg'}`;
}

/** The files of a drop or a paste, each with a name. */
export function listHanded(transfer: Pick<DataTransfer, 'files'> | null): File[] {
  return [...(transfer?.files ?? [])].map((file) => {
    const name = nameHanded(file.name, file.type);
    return name === file.name ? file : new File([file], name, { type: file.type });
  });
}

/** Whether what is pasted or typed there is meant for a field. */
export function isField(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && (target.isContentEditable || target.matches('input, textarea, select'))
  );
}
