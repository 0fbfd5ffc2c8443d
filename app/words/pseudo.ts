type Words = { [key: string]: string | Words };

const MARKED: Record<string, string> = {
  a: 'á',
  e: 'é',
  i: 'í',
  o: 'ó',
  u: 'ú',
  c: 'ç',
  n: 'ñ',
  y: 'ý',
  A: 'Á',
  E: 'É',
  I: 'Í',
  O: 'Ó',
  U: 'Ú',
  C: 'Ç',
  N: 'Ñ',
  s: 'š',
  z: 'ž',
};

/**
 * Words of a made-up language for tests: every letter that can carry a mark
 * does, each text is about 40 % longer and stands in brackets, so that words
 * left in the code and layouts that only fit English show at once.
 */
export function pseudo(words: Words): Words {
  return Object.fromEntries(
    Object.entries(words).map(([key, value]) => [key, typeof value === 'string' ? pseudoText(value) : pseudo(value)]),
  );
}

function pseudoText(text: string): string {
  const parts = text.split(/(\{\{[^}]*\}\})/);
  const marked = parts.map((part) => (part.startsWith('{{') ? part : part.replace(/[A-Za-z]/g, (c) => MARKED[c] ?? c))).join('');
  return `⟦${marked}${' ~'.repeat(Math.ceil(text.length / 6))}⟧`;
}
