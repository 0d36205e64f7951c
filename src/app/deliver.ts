/** A file made for the user. */
export interface MadeFile {
  readonly name: string;
  readonly blob: Blob;
}

/** Whether the page runs from the home screen, where download links lead nowhere on some phones. */
const isHomeScreenApp = () => matchMedia('(display-mode: standalone)').matches;

/** Gives a file to the user: shared with another app where downloads do not work, else downloaded. Says which. */
export async function deliverFile({
  name,
  blob,
}: MadeFile): Promise<'shared.' | 'saved.' | 'was not shared.'> {
  const file = new File([blob], name, { type: blob.type });
  if (isHomeScreenApp() && navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return 'shared.';
    } catch (thrown) {
      if (thrown instanceof DOMException && thrown.name === 'AbortError') return 'was not shared.';
    }
  }
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // the download reads the blob after this call
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
  return 'saved.';
}
