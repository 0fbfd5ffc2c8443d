/** Hands a file to the clinician through the browser's own download. */
export function save(name: string, content: BlobPart, type = 'application/json'): void {
  const url = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // Some browsers fetch the address only after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}
