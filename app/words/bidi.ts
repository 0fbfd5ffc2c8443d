/**
 * Marks that keep a piece of text together where the writing around it goes the
 * other way (Unicode UAX #9, explicit directional isolates). They are not seen.
 */
const LEFT_TO_RIGHT = '\u2066';
const AS_IT_BEGINS = '\u2068';
const END = '\u2069';

/** A text that goes the way its own first letter goes; one without letters, a phone number for instance, from left to right. */
export const isolated = (text: string): string => `${AS_IT_BEGINS}${text}${END}`;

/** A text that goes from left to right whatever it holds, such as a number with its unit. */
export const leftToRight = (text: string): string => `${LEFT_TO_RIGHT}${text}${END}`;

/** A text as it is kept or compared, without such marks. */
export const withoutMarks = (text: string): string => text.replace(/[\u200e\u200f\u061c\u2066-\u2069]/g, '');
