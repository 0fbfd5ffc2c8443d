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
