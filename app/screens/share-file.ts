/** A file as the platform's share sheet takes it. Plain text with such a name is on every platform's list; JSON is on none. */
const fileOf = (name: string, content: Blob): File => new File([content], name, { type: 'text/plain' });

/** Whether this phone has a share sheet that takes such a file. */
export const canShare = (name: string): boolean => {
  try {
    return navigator.canShare?.({ files: [fileOf(name, new Blob(['-']))] }) ?? false;
  } catch {
    return false;
  }
};

/**
 * Opens the share sheet. To be called straight from a press of a button.
 * @returns `no` when the person closed it, `failed` when the platform would not.
 */
export async function share(name: string, content: Blob): Promise<'yes' | 'no' | 'failed'> {
  try {
    await navigator.share({ files: [fileOf(name, content)] });
    return 'yes';
  } catch (error) {
    return error instanceof DOMException && error.name === 'AbortError' ? 'no' : 'failed';
  }
}
