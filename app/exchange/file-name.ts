/** No longer than is read at a glance in a list of files. */
const NAME_MOST = 20;

/** A person's name with letters and digits alone: no marks of direction, dots or slashes. Empty where nothing is left. */
const plainName = (name: string): string =>
  // By whole letters, or a cut could leave half of one.
  [
    ...name
      .normalize('NFC')
      .toLowerCase()
      .replace(/[^\p{L}\p{M}\p{N}]+/gu, '-')
      .replace(/^[-\p{M}]+/u, ''),
  ]
    .slice(0, NAME_MOST)
    .join('')
    .replace(/-+$/, '');

/**
 * What a file is called: `tendbook-log-clinic-nela-2031-03-04.txt`.
 * @param purpose what it is and for whom, in plain letters.
 * @param person what the person is called; undefined where the file does not name them either.
 * @param which the day, or the version.
 */
export function fileName(purpose: string, person: string | undefined, which: string | number, ending: string): string {
  return `${['tendbook', purpose, plainName(person ?? ''), which].filter((part) => part !== '').join('-')}.${ending}`;
}
