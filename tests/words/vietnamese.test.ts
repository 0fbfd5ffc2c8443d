import { describe, expect, it } from 'vitest';
import { formatWeekdayShort } from '../../app/words/format.ts';
import { switchLanguage } from '../../app/words/i18n.ts';
import { type Texts, textsOf } from './locale-files.ts';

const NO_BREAK = '\u00a0';
const WHOLE = new RegExp(`quý${NO_BREAK}vị|cấp${NO_BREAK}cứu|phòng${NO_BREAK}khám`, 'giu');

/** What must not stand in a Vietnamese text, each with a name for the message. */
const RULES: readonly (readonly [name: string, isWrong: (text: string) => boolean])[] = [
  // Fonts draw a letter and its marks well only as one character [Unicode Standard Annex #15, form C].
  ['a letter apart from its marks', (text) => text !== text.normalize('NFC')],
  // One spelling: the mark of the tone on the first vowel of oa, oe and uy, as in `hóa`, not `hoá` (our own choice).
  ['the tone on the other vowel', (text) => /(?:o[àáảãạèéẻẽẹ]|(?<!q)u[ỳýỷỹỵ])(?!\p{L})/iu.test(text)],
  // Everybody is called `quý vị`, polite to any age and sex, the helper too.
  ['another form of address', (text) => /(?<!\p{L})(?:bạn|bác|ông|bà|cô|(?<!ghi )chú|anh|chị|em)(?!\p{L})/iu.test(text)],
  // Syllables stand apart, so a line can break within a word; the words that matter most stay whole.
  ['a word that a line can break', (text) => /quý vị|cấp cứu|phòng khám/iu.test(text.replaceAll(NO_BREAK, '_'))],
  ['a no-break space elsewhere', (text) => new RegExp(NO_BREAK).test(text.replace(WHOLE, ''))],
  ['two spaces in a row', (text) => /\s\s/.test(text)],
  ['a straight quote or three dots', (text) => /['"]|\.\.\./.test(text)],
  ['a space before a sign', (text) => /\s[.,:;!?](?!\p{L})/u.test(text)],
];

const faults = (texts: Texts): string[] =>
  [...texts].flatMap(([key, text]) => RULES.filter(([, isWrong]) => isWrong(text)).map(([name]) => `${key}: ${name}: ${text}`));

describe('Vietnamese', () => {
  it('has whole letters, one spelling and one form of address', () => {
    expect(faults(textsOf('vi'))).toEqual([]);
  });

  it('this check can fail, and lets good texts be', () => {
    const bad = [
      'Thay ba\u0306ng',
      'Xoá ảnh',
      'Bác hãy gọi',
      'Thay  băng',
      'Chờ...',
      'Băng nào ?',
      'Khoẻ',
      'thuỷ',
      'Gọi cấp cứu',
      'Một\u00a0từ',
    ];
    expect(faults(new Map(bad.map((text, i) => [`a:${i}`, text]))).map((line) => line.split(':')[1])).toEqual(bad.map((_, i) => `${i}`));
    const good = ['Quý\u00a0vị hãy xóa ảnh.', 'Ngoài ra: khoảng 2 ngày, toàn thân', 'Hủy, tùy, bông băng', 'Chờ…'];
    expect(faults(new Map(good.map((text, i) => [`a:${i}`, text])))).toEqual([]);
  });

  it('heads a calendar with the seven short names, all different', async () => {
    await switchLanguage('vi');
    expect([0, 1, 2, 3, 4, 5, 6].map(formatWeekdayShort)).toEqual(['T2', 'T3', 'T4', 'T5', 'T6', 'T7', 'CN']);
    await switchLanguage('en');
    expect(formatWeekdayShort(0)).toBe('Mon');
  });
});
