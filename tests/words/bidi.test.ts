import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { closed } from '../../app/words/bidi.ts';
import { t, words } from '../../app/words/i18n.ts';

const CONTROLS = ['\u202a', '\u202b', '\u202c', '\u202d', '\u202e', '\u2066', '\u2067', '\u2068', '\u2069', 'a', 'ب', '1'];

/** What is open at the end of a text, counted anew by the rules X2 to X7 of the annex, without its limits of depth. */
function openAtEnd(text: string): number {
  const stack: ('embedding' | 'isolate')[] = [];
  for (const letter of text) {
    if ('\u202a\u202b\u202d\u202e'.includes(letter)) stack.push('embedding');
    else if ('\u2066\u2067\u2068'.includes(letter)) stack.push('isolate');
    else if (letter === '\u202c') {
      if (stack.at(-1) === 'embedding') stack.pop();
    } else if (letter === '\u2069' && stack.includes('isolate')) while (stack.pop() !== 'isolate');
  }
  return stack.length;
}

describe('text that turns the direction of writing round', () => {
  test('is closed where it ends, and else stays the same letters', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...CONTROLS), { maxLength: 12 }), (letters) => {
        const text = letters.join('');
        const shut = closed(text);
        expect(shut.startsWith(text)).toBe(true);
        expect(openAtEnd(shut)).toBe(0);
        if (openAtEnd(text) === 0) expect(shut).toBe(text);
      }),
    );
  });

  test('cannot turn round the number behind a clinic’s name in a sentence', () => {
    words.addResource('en', 'common', 'probe', '{{name}}: {{phone}}');
    expect(t('common:probe', { name: 'Clinic \u202e', phone: '+1 312 555 0142' })).toBe('Clinic \u202e\u202c: +1 312 555 0142');
    // Markup is the screen's to show as letters; nothing is escaped twice.
    expect(t('common:probe', { name: '<b>&amp;', phone: '$t(common:app) {{name}}' })).toBe('<b>&amp;: $t(common:app) {{name}}');
  });
});
