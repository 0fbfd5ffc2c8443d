/** How much of a file is read at a time. */
const SLICE = 1 << 20;

/** A line of a file. */
export interface Line {
  text: string;
  /** Whether a line break followed; the last line of a file may have none. */
  ended: boolean;
  /** Bytes of the file up to the end of this line. */
  at: number;
}

/**
 * The lines of a text file in ASCII, read slice by slice, so that a file of any
 * size takes the memory of one line. Blank lines are left out; a line break may
 * be that of any system.
 * @param most letters in a line; a longer one ends the reading as a line without an end.
 */
export async function* linesOf(file: Blob, most: number): AsyncGenerator<Line> {
  const decoder = new TextDecoder('latin1');
  let rest = '';
  let at = 0;
  for (let read = 0; read < file.size; read += SLICE) {
    rest += decoder.decode(await file.slice(read, read + SLICE).arrayBuffer());
    for (let end = rest.indexOf('\n'); end >= 0; end = rest.indexOf('\n')) {
      const text = rest.slice(0, end).trim();
      rest = rest.slice(end + 1);
      at += end + 1;
      if (text !== '') yield { text, ended: true, at };
    }
    if (rest.length > most) break;
  }
  const text = rest.trim();
  if (text !== '') yield { text, ended: false, at: at + rest.length };
}
