/** The most octets of a line without its CRLF (RFC 5545, 3.1). */
const LINE_OCTETS = 75;

const encoder = new TextEncoder();

/** A text as a TEXT value (RFC 5545, 3.3.11). Control characters other than the line feed are left out. */
export function escapeText(text: string): string {
  return text
    .replace(/\r\n?/g, '\n')
    .replace(/(?![\t\n])\p{Cc}/gu, '')
    .replace(/[\\;,]/g, (c) => `\\${c}`)
    .replaceAll('\n', '\\n');
}

export const line = (name: string, value: string): string => `${name}:${value}`;
export const textLine = (name: string, text: string): string => line(name, escapeText(text));

/** Breaks a line into lines of at most 75 octets, never inside a character (RFC 5545, 3.1). */
export function fold(content: string): string {
  const lines: string[] = [];
  let current = '';
  let octets = 0;
  for (const character of content) {
    const size = encoder.encode(character).length;
    if (octets + size > LINE_OCTETS) {
      lines.push(current);
      current = ' ';
      octets = 1;
    }
    current += character;
    octets += size;
  }
  return [...lines, current].join('\r\n');
}

/** An instant (ms) in the UTC form of RFC 5545. */
export const stampUtc = (at: number): string => `${new Date(at).toISOString().slice(0, 19).replaceAll(/[-:]/g, '')}Z`;
