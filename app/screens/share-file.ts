/** A file in the hand, before it is saved or sent. */
export interface HandFile {
  name: string;
  type: string;
  content: BlobPart;
}

const toFile = ({ name, type, content }: HandFile): File => new File([content], name, { type });

/** Whether the share sheet of this phone takes these files. Many take no JSON and no ZIP. */
export function canShare(files: readonly HandFile[]): boolean {
  try {
    return navigator.canShare?.({ files: files.map(toFile) }) ?? false;
  } catch {
    return false;
  }
}

/**
 * Opens the share sheet with some files. To be called in answer to a press.
 * @returns whether they were passed on; false when the person closed the sheet.
 * @throws when the phone refuses.
 */
export async function share(files: readonly HandFile[]): Promise<boolean> {
  try {
    await navigator.share({ files: files.map(toFile) });
    return true;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return false;
    throw error;
  }
}
