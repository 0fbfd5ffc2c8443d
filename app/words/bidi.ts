/**
 * Marks that keep a piece of text together where the writing around it goes the
 * other way (Unicode UAX #9, explicit directional isolates). They are not seen.
 */
const LEFT_TO_RIGHT = '\u2066';
const RIGHT_TO_LEFT = '\u2067';
const END = '\u2069';

/** A text that goes from left to right whatever it holds, such as a number with its unit. */
export const leftToRight = (text: string): string => `${LEFT_TO_RIGHT}${text}${END}`;

/**
 * A text for a place in writing from right to left: with any letter of such
 * writing it goes that way too, else from left to right, as a Latin name or a
 * phone number does. To let the first letter decide will not do: letters
 * within marks of their own do not count, and a sentence made of such parts
 * would have none.
 */
export const isolated = (text: string): string =>
  /[\p{Script=Arabic}\p{Script=Hebrew}]/u.test(text) ? `${RIGHT_TO_LEFT}${text}${END}` : leftToRight(text);

/** A text as it is kept or compared, without such marks. */
export const withoutMarks = (text: string): string => text.replace(/[\u200e\u200f\u061c\u2066-\u2069]/g, '');

/**
 * A text with every change of the direction of writing closed that it opens.
 * Left open, one lasts to the end of the paragraph and turns round what stands
 * behind the text, a phone number for instance (Unicode UAX #9, X1 to X8).
 */
export function closed(text: string): string {
  /** What closes all that is open, the innermost first. */
  let ends = '';
  for (const mark of text.match(/[\u202a-\u202e\u2066-\u2069]/g) ?? []) {
    if (mark === '\u202c') ends = ends.startsWith(mark) ? ends.slice(1) : ends;
    // The end of an isolate ends whatever was left open within it; one of nothing ends nothing.
    else if (mark === END) ends = ends.slice(ends.indexOf(END) + 1);
    else ends = (mark < '\u2066' ? '\u202c' : END) + ends;
  }
  return text + ends;
}
