declare module 'silabea' {
  /** Splits a Spanish word; `numeroSilaba` is how many syllables it has. */
  export function getSilabas(word: string): { numeroSilaba: number; silabas: { silaba: string }[] };
}

declare module 'number-to-words' {
  const numberToWords: {
    /** English words for a whole number: 12 gives `twelve`. */
    toWords(value: number): string;
  };
  export default numberToWords;
}
