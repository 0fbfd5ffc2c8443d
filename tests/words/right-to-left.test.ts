import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { supplyName } from '../../app/clinic/supply-words.ts';
import { answerText } from '../../app/words/answers.ts';
import { withoutMarks } from '../../app/words/bidi.ts';
import {
  formatArea,
  formatDay,
  formatLength,
  formatNumber,
  formatReading,
  formatTime,
  inARow,
  latinDigits,
  lengthSign,
  parseNumber,
  unitSign,
  weightSign,
} from '../../app/words/format.ts';
import { AREAS, directionOf, loadAreas, switchLanguage, t } from '../../app/words/i18n.ts';
import { woundName } from '../../app/words/names.ts';
import { languages, textsOf } from './locale-files.ts';

beforeAll(async () => {
  await Promise.all(['en', 'ar'].map((language) => loadAreas(AREAS, language)));
  await switchLanguage('ar');
});
afterAll(() => switchLanguage('en'));

// UAX #9: U+2066 begins an isolate from left to right, U+2067 one from right to left, U+2069 ends either.
const LRI = '\u2066';
const RLI = '\u2067';
const PDI = '\u2069';

describe('what is put into an Arabic sentence', () => {
  test('a name or phone number is kept together, so that neither it nor the sentence is turned round', () => {
    expect(t('clinic:dry.clinic', { phone: '+1 312 555 0142' })).toBe(`يُتصل بالعيادة: ${LRI}+1 312 555 0142${PDI}.`);
    expect(t('today:title', { name: 'Nela' })).toBe(`يوم ${LRI}Nela${PDI}`);
  });

  test('in a language from left to right nothing is added', async () => {
    await switchLanguage('en');
    expect(t('today:title', { name: 'نيلة' })).toBe("نيلة's day");
    expect(formatReading(38.4, 'Cel')).toBe('38.4 °C');
    await switchLanguage('ar');
  });

  test('the person’s own name for a wound does not turn the place round', () => {
    expect(woundName({ label: 'Heel (old)', site: 'heelBack', side: 'left' })).toBe(
      `${LRI}Heel (old)${PDI} (القدم اليسرى، ${RLI}خلف الكعب${PDI})`,
    );
  });

  test('a reading stands as on the device: number, then unit', () => {
    expect(formatReading(38.4, 'Cel')).toBe(`${LRI}38.4 °C${PDI}`);
    expect(formatReading(126, 'mg/dL')).toBe(`${LRI}126 mg/dL${PDI}`);
  });

  test('an answer made of such parts goes from right to left as a whole', () => {
    const answer = answerText('temperature', { value: 38.4, unit: 'Cel', site: 'mouth' });
    expect(withoutMarks(answer)).toBe('38.4 °C، في الفم');
    expect(t('check:line', { question: 'الحرارة', answer })).toContain(`: ${RLI}${answer}${PDI}`);
  });

  test('the sign of a unit keeps its order: the degree before its letter', () => {
    expect(unitSign('Cel')).toBe(`${LRI}°C${PDI}`);
  });

  test('texts in a row have the marks of Arabic', () => {
    expect(inARow(['أ', 'ب'])).toBe('أ، ب');
    expect(inARow(['أ', 'ب'], ';')).toBe('أ؛ ب');
  });
});

describe('words of languages from right to left', () => {
  // Without an isolate "45 °C" reads "C° 45", for the number takes its direction from the letters before it.
  const loose = (text: string): string[] => text.replace(/\u2066[^\u2069]*\u2069/g, '').match(/\d ?(?:°|%|[A-Za-z])/g) ?? [];
  const open = (text: string): number => (text.match(/[\u2066-\u2068]/g) ?? []).length - (text.match(/\u2069/g) ?? []).length;

  test.each(languages().filter((l) => directionOf(l) === 'rtl'))(
    '%s: a number with a Latin unit is kept together, and every such mark ends',
    (language) => {
      const texts = [...textsOf(language)];
      expect(texts.filter(([, text]) => loose(text).length > 0)).toEqual([]);
      expect(texts.filter(([, text]) => open(text) !== 0)).toEqual([]);
    },
  );

  test('the check sees a unit that stands loose', () => {
    expect(loose('بين 10 و45 °C')).toHaveLength(1);
    expect(loose(`بين 10 و${LRI}45 °C${PDI}`)).toEqual([]);
  });
});

describe('Arabic numbers', () => {
  test('digits are those on thermometers, meters and packets, in every browser', () => {
    expect(formatNumber(38.45, 2)).toBe('38.45');
    expect(withoutMarks(formatDay('2031-03-04' as LocalDay))).toBe('الثلاثاء، 4 مارس');
    expect(withoutMarks(formatTime('2031-03-04T14:05:00Z', 'UTC'))).toMatch(/^2:05\sم$/);
  });

  test('lengths have the unit in Arabic, whose letters keep the order right by themselves', () => {
    expect(formatLength(100, 'cm')).toBe('10 سم');
    expect(formatLength(25.4, 'in')).toBe('1 بوصة');
    expect(formatArea(350, 'cm')).toBe('3.5 سم²');
  });

  test('units of length and weight have the short names that CLDR gives them', () => {
    const named = (unit: string) =>
      new Intl.NumberFormat('ar', { style: 'unit', unit, unitDisplay: 'short' }).formatToParts(1).find((part) => part.type === 'unit')
        ?.value;
    expect([lengthSign('cm'), lengthSign('in'), weightSign()]).toEqual([named('centimeter'), named('inch'), named('gram')]);
  });

  test.each([
    ['٣٨٫٤', 38.4],
    ['۳۸٫۴', 38.4],
    ['38.4', 38.4],
    ['38,4', 38.4],
    ['٣٨،٤', 38.4],
    ['٣٨.٤', 38.4],
    [' \u200f٣٨٫٤\u200f ', 38.4],
    ['٣8', 38],
    ['٠', 0],
    ['٣٨٫', undefined],
    ['٣٨٬٤', undefined],
    ['٣٨٫٤٫١', undefined],
    ['أ٣٨', undefined],
    ['-٣', undefined],
  ])('%s is read as %s', (typed, value) => {
    expect(parseNumber(typed)).toBe(value);
  });

  test('every number that can be typed is the same in Arabic digits', () => {
    const arabic = (text: string) => text.replace(/\d/g, (d) => String.fromCharCode(0x660 + Number(d))).replace('.', '٫');
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 999_999 }), (n) => {
        const typed = (n / 100).toFixed(2);
        expect(parseNumber(arabic(typed))).toBe(Number(typed));
      }),
    );
  });

  test('a phone number typed in Arabic digits can be dialled', () => {
    expect(latinDigits('+١ (٣١٢) ٥٥٥-٠١٤٢')).toBe('+1 (312) 555-0142');
  });
});

describe('how many', () => {
  // CLDR plural rules of Arabic: zero 0; one 1; two 2; few 3–10, 103–110; many 11–99, 111–199; other 100–102 and fractions.
  test.each([
    [1, 'كل يوم'],
    [2, 'كل يومين'],
    [3, 'كل 3 أيام'],
    [10, 'كل 10 أيام'],
    [11, 'كل 11 يومًا'],
    [100, 'كل 100 يوم'],
  ])('%i days', (count, words) => {
    expect(t('common:every.days', { count })).toBe(words);
  });

  test.each([
    [1, `أتصل من أجل ${LRI}Nela${PDI}: مرض السكري وجرح في القدم.`],
    [2, `أتصل من أجل ${LRI}Nela${PDI}: مرض السكري وجرحان في القدم.`],
    [3, `أتصل من أجل ${LRI}Nela${PDI}: مرض السكري و3 جروح في القدم.`],
  ])('%i wounds, on the phone', (count, words) => {
    expect(t('alert:sayWho', { name: 'Nela', count })).toBe(words);
  });
});

describe('a supply that the desk names in the person’s language', () => {
  const need = { id: 'x', kind: 'dressing', family: 'foam', widthMm: 100, heightMm: 50 } as const;

  test('has that language’s unit, whatever the desk’s own', async () => {
    expect(supplyName(need, 'en')).toBe('Foam 10 cm × 5 cm');
    await switchLanguage('en');
    expect(supplyName(need, 'ar')).toBe('ضماد رغوة 10 سم × 5 سم');
    await switchLanguage('ar');
  });

  test('holds no marks: it becomes part of the plan', () => {
    expect(supplyName(need, 'ar')).toBe(withoutMarks(supplyName(need, 'ar')));
  });
});
