import { describe, expect, it } from 'vitest';
import { type Texts, textsOf } from './locale-files.ts';

const NO_BREAK = '\u00a0';
const NARROW = '\u202f';

/**
 * What French puts around its signs, as in the Lexique of the Imprimerie
 * nationale (from memory): a narrow no-break space before ; ! ?, a no-break
 * space before a colon, a % and the sign of a unit, and inside « ». A line must
 * not begin with such a sign.
 */
const RULES: readonly (readonly [name: string, wrong: RegExp])[] = [
  ['; ! or ? without its narrow no-break space', new RegExp(`(?<![${NARROW}…?!])[;!?]`)],
  ['a colon without its no-break space', new RegExp(`(?<!${NO_BREAK}):`)],
  ['% without its no-break space', new RegExp(`(?<!${NO_BREAK})%`)],
  ['« or » without its no-break space', new RegExp(`«(?!${NO_BREAK})|(?<!${NO_BREAK})»`)],
  [
    'a no-break space where none is due',
    new RegExp(`${NARROW}(?![;!?])|${NO_BREAK}(?!:|»|°|%|(?:[cm]m|in|g)\\b|mg/|mmol/|g/)(?<!«${NO_BREAK})`),
  ],
  ['two spaces in a row', /\s\s/],
  ['a straight apostrophe or quote, or three dots', /['"“”]|\.\.\./],
];

const wrongSigns = (texts: Texts): string[] =>
  [...texts].flatMap(([key, text]) => RULES.filter(([, wrong]) => wrong.test(text)).map(([name]) => `${key}: ${name}: ${text}`));

describe('signs and spaces in French', () => {
  it('are those that French asks for', () => {
    expect(wrongSigns(textsOf('fr'))).toEqual([]);
  });

  it('this check can fail', () => {
    const bad = ['Quelle plaie ?', 'La plaie: ici', '«ici»', 'Un\u00a0mot', 'Un\u202fmot', 'Un  mot', "l'eau", 'Attendez...', '5 %'];
    expect(wrongSigns(new Map(bad.map((text, i) => [`a:${i}`, text]))).map((line) => line.split(':')[1])).toEqual([
      '0',
      '1',
      '2',
      '3',
      '4',
      '5',
      '6',
      '7',
      '8',
    ]);
    const good = [
      'Quelle plaie\u202f?',
      'La plaie\u00a0: ici',
      '«\u00a0ici\u00a0»',
      '10\u00a0°C et 3\u00a0cm',
      '5\u00a0% de 4\u00a0g',
      'Un instant…',
    ];
    expect(wrongSigns(new Map(good.map((text, i) => [`a:${i}`, text])))).toEqual([]);
  });
});
