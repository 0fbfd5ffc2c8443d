const OPENING: Readonly<Record<string, string>> = {
  '\u202a': '\u202c',
  '\u202b': '\u202c',
  '\u202d': '\u202c',
  '\u202e': '\u202c',
  '\u2066': '\u2069',
  '\u2067': '\u2069',
  '\u2068': '\u2069',
};
const ANY = /[\u202a-\u202e\u2066-\u2069]/;

/**
 * A text with every change of the direction of writing closed that it opens.
 * Left open, one lasts to the end of the paragraph and turns round what stands
 * behind the text, a phone number for instance (Unicode Standard Annex #9, X1–X8).
 */
export function closed(text: string): string {
  if (!ANY.test(text)) return text;
  const open: string[] = [];
  for (const letter of text) {
    const closing = OPENING[letter];
    if (closing) open.push(closing);
    else if (letter === '\u202c' && open.at(-1) === letter) open.pop();
    // The end of an isolate ends whatever was left open within it.
    else if (letter === '\u2069' && open.includes(letter)) open.length = open.lastIndexOf(letter);
  }
  return text + open.reverse().join('');
}
