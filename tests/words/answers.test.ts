import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type Answers, mildestAnswers } from '../../app/care/check/answers.ts';
import type { LoggedRule } from '../../app/care/log/records.ts';
import type { Wound } from '../../app/care/plan/plan.ts';
import { answerLines, answerText, phoneLines } from '../../app/words/answers.ts';
import { AREAS, loadAreas, switchLanguage, t } from '../../app/words/i18n.ts';
import { footName, woundName } from '../../app/words/names.ts';
import { reasonText } from '../../app/words/reasons.ts';
import { demoPlan, twoWoundPlan, woundOf } from '../care/plan/plans.ts';

beforeAll(() => loadAreas(AREAS, 'en'));
beforeEach(() => switchLanguage('en'));

const line = (id: string, code: string): string =>
  t('check:line', { question: t(`check:${id}.short`), answer: t(`check:${id}.said.${code}`) });

describe('an answer about a wound that must stay dry', () => {
  test('its mildest look is "nothing new", not "red or pink"', () => {
    expect(answerText('woundBed', ['red'], { dry: true })).toBe('nothing new');
    expect(answerText('woundBed', ['red'])).toBe('red or pink');
    expect(answerLines({ woundBed: ['red'] }, { dry: true })).toEqual(['The wound itself: nothing new']);
  });

  test('everything else reads as for any wound', () => {
    expect(answerText('woundBed', ['newBlack'], { dry: true })).toBe('new black tissue');
    expect(answerText('odour', 'newOrStronger', { dry: true })).toBe(answerText('odour', 'newOrStronger'));
  });
});

describe('what to say on the phone', () => {
  const plan = twoWoundPlan();
  const [w1, w2] = [woundOf(plan, 'w1'), woundOf(plan, 'w2')];
  const sameFoot = { wounds: [w1, { ...w2, side: w1.side } as Wound] };
  const mild = mildestAnswers();
  const fever = { temperature: { feelsFeverish: 'yes' } } as const satisfies Answers;

  test('one wound: plain lines, without what is as usual', () => {
    const answers: Answers = { ...mild, ...fever, pain: 'more', odour: 'newOrStronger' };
    expect(phoneLines(demoPlan(), { w1: answers })).toEqual([
      line('temperature', 'yes'),
      line('pain', 'more'),
      line('odour', 'newOrStronger'),
    ]);
  });

  test('two wounds on one foot: person and foot are said once, only the wound’s own answers by its name', () => {
    const shared: Answers = { ...mild, ...fever, unwell: ['vomiting'], pain: 'severe' };
    const lines = phoneLines(sameFoot, { w1: { ...shared, bleeding: 'spots' }, w2: { ...shared, dressing: 'loose' } });
    expect(lines).toEqual([
      line('unwell', 'vomiting'),
      line('temperature', 'yes'),
      line('pain', 'severe'),
      `${woundName(w1)}: ${line('bleeding', 'spots')}`,
      `${woundName({ ...w2, side: w1.side })}: ${line('dressing', 'loose')}`,
    ]);
  });

  test('wounds on both feet: the foot is named', () => {
    const lines = phoneLines(plan, { w1: { ...mild, ...fever, pain: 'more' }, w2: { ...mild, ...fever, swelling: 'new' } });
    expect(lines).toEqual([
      line('temperature', 'yes'),
      `${footName('left')}: ${line('pain', 'more')}`,
      `${footName('right')}: ${line('swelling', 'new')}`,
    ]);
  });

  test('a wound without answers has no lines, and a dry one never says "nothing new" beside something new', () => {
    expect(phoneLines(plan, {})).toEqual([]);
    const woundBed: Answers['woundBed'] = ['red', 'deeper'];
    expect(phoneLines(plan, { w2: { woundBed } })).toEqual([`${woundName(w2)}: The wound itself: red or pink and deeper`]);
  });

  test.each([
    ['en', 1, 'I am calling about Nela, who has diabetes and a foot wound.'],
    ['en', 2, 'I am calling about Nela, who has diabetes and 2 foot wounds.'],
    ['es', 1, 'Llamo por Nela, que tiene diabetes y una herida en el pie.'],
    ['es', 2, 'Llamo por Nela, que tiene diabetes y 2 heridas en los pies.'],
    ['fr', 1, 'J’appelle pour Nela, qui a du diabète et une plaie au pied.'],
    ['fr', 2, 'J’appelle pour Nela, qui a du diabète et 2 plaies aux pieds.'],
    ['vi', 1, 'Tôi gọi về trường hợp của Nela, bị tiểu đường và có 1 vết thương ở bàn chân.'],
    ['vi', 2, 'Tôi gọi về trường hợp của Nela, bị tiểu đường và có 2 vết thương ở bàn chân.'],
  ])('%s, %i: how many wounds', async (language, count, words) => {
    await switchLanguage(language);
    expect(t('alert:sayWho', { name: 'Nela', count })).toBe(words);
  });
});

describe('names of questions within a sentence', () => {
  const unsure: LoggedRule = { rule: 'not-sure', level: 'callToday', findings: [], params: { questions: 'unwell,odour,woundBed' } };

  test.each([
    ['en', 'You were not sure about: how you feel, smell, and the wound itself.'],
    ['es', 'Hay dudas en esto: cómo se siente, olor y la herida misma.'],
    ['fr', 'Vous avez eu un doute sur\u00a0: votre état, odeur et la plaie elle-même.'],
    ['vi', 'Quý\u00a0vị không chắc về: sức khỏe chung, mùi và chính vết thương.'],
  ])('%s: begin with a small letter', async (language, words) => {
    await switchLanguage(language);
    expect(reasonText(unsure)).toBe(words);
  });
});

test.each([
  ['es', 1, 'Tocaba ayer'],
  ['es', 3, 'Tocaba hace 3 días'],
  ['fr', 1, 'Était prévu hier'],
  ['fr', 3, 'Était prévu il y a 3 jours'],
  ['vi', 1, 'Đã trễ 1 ngày'],
  ['vi', 3, 'Đã trễ 3 ngày'],
])('%s: a change that is %i days late', async (language, count, words) => {
  await switchLanguage(language);
  expect(t('today:dueLate', { count })).toBe(words);
});
