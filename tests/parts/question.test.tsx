// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { ANSWER_SCHEMAS } from '../../app/care/check/answers.ts';
import { QUESTIONS, question } from '../../app/care/check/questions.ts';
import { isAnswered } from '../../app/parts/question.tsx';
import { hasWords, t } from '../../app/words/i18n.ts';
import { ask, loadEnglish } from './ask.tsx';

beforeAll(loadEnglish);
afterEach(cleanup);

const CHOICES = QUESTIONS.filter((q) => q.kind === 'oneOf' || q.kind === 'manyOf' || q.kind === 'warmth');
const label = (id: string, code: string): string => {
  const own = `check:${id}.code.${code}`;
  return t(code === 'unsure' && !hasWords(own) ? 'check:unsure' : own);
};
const choice = (id: string, code: string): HTMLInputElement =>
  screen.getByLabelText<HTMLInputElement>(new RegExp(`^${escaped(label(id, code))}`));
const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
const field = (key: string): HTMLInputElement => screen.getByRole<HTMLInputElement>('textbox', { name: t(key) });
const errors = (): (string | null)[] => screen.queryAllByRole('alert').map((e) => e.textContent);

test('"none of these" comes after the signs it speaks of, and before "not sure"', () => {
  ask('unwell');
  const codes = screen.queryAllByRole<HTMLInputElement>('checkbox').map((box) => box.value);
  expect(codes.slice(-2)).toEqual(['none', 'unsure']);
  expect(codes).toEqual(expect.arrayContaining([...question('unwell').codes]));
});

describe('every question with choices', () => {
  test.each(CHOICES.map((q) => q.id))('%s: all answers are there by name, "not sure" among them', (id) => {
    ask(id);
    for (const code of [...question(id).codes, 'unsure']) expect(choice(id, code).checked).toBe(false);
    const all = [...screen.queryAllByRole('radio'), ...screen.queryAllByRole('checkbox')];
    expect(all).toHaveLength(question(id).codes.length + 1);
  });

  test.each(CHOICES.map((q) => q.id))('%s: each answer that is chosen is one the schema takes', async (id) => {
    for (const code of [...question(id).codes, 'unsure']) {
      const { user, given } = ask(id);
      await user.click(choice(id, code));
      expect(ANSWER_SCHEMAS[id].safeParse(given()).success).toBe(true);
      expect(isAnswered(question(id), given())).toBe(true);
      cleanup();
    }
  });

  test.each(CHOICES.map((q) => q.id))('%s: the choices belong to a group that is named after the question', (id) => {
    ask(id);
    expect(screen.getByRole(question(id).kind === 'manyOf' ? 'group' : 'radiogroup', { name: t(`check:${id}.ask`) })).toBeTruthy();
  });

  test.each(CHOICES.map((q) => q.id))('%s: going on without an answer says what to do', (id) => {
    ask(id, { complain: true });
    expect(errors()).toEqual([t(question(id).kind === 'manyOf' ? 'check:chooseAll' : 'check:chooseOne')]);
    expect(isAnswered(question(id), undefined)).toBe(false);
  });

  test.each(CHOICES.map((q) => q.id))('%s: what to do is said of the group too, and it is marked as wrong', (id) => {
    ask(id, { complain: true });
    const many = question(id).kind === 'manyOf';
    const group = screen.getByRole(many ? 'group' : 'radiogroup', { name: t(`check:${id}.ask`) });
    expect(document.getElementById(group.getAttribute('aria-describedby') ?? '')).toBe(screen.getByRole('alert'));
    if (!many) expect(group.getAttribute('aria-invalid')).toBe('true');
  });
});

describe('one of several', () => {
  test('a second choice takes the place of the first', async () => {
    const { user, given } = ask('pain');
    await user.click(choice('pain', 'usual'));
    await user.click(choice('pain', 'severe'));
    expect(given()).toBe('severe');
    expect(choice('pain', 'usual').checked).toBe(false);
  });

  test('can be chosen with the keyboard alone', async () => {
    const { user, given } = ask('pain');
    await user.tab();
    await user.keyboard(' ');
    expect(given()).toBe('usual');
  });

  test('a stored answer is shown as chosen', () => {
    ask('bleeding', { answer: 'spots' });
    expect(choice('bleeding', 'spots').checked).toBe(true);
  });
});

describe('many of several', () => {
  test('several stand together', async () => {
    const { user, given } = ask('unwell');
    await user.click(choice('unwell', 'vomiting'));
    await user.click(choice('unwell', 'faint'));
    expect(given()).toEqual(['vomiting', 'faint']);
  });

  test('"none of these" takes back all others, and any other takes back "none of these"', async () => {
    const { user, given } = ask('unwell');
    await user.click(choice('unwell', 'vomiting'));
    await user.click(choice('unwell', 'none'));
    expect(given()).toEqual(['none']);
    expect(choice('unwell', 'vomiting').checked).toBe(false);
    await user.click(choice('unwell', 'shakingChills'));
    expect(given()).toEqual(['shakingChills']);
    expect(choice('unwell', 'none').checked).toBe(false);
  });

  test('"not sure" may stand beside a sign, but not beside "none of these"', async () => {
    const { user, given } = ask('unwell');
    await user.click(choice('unwell', 'faint'));
    await user.click(choice('unwell', 'unsure'));
    expect(given()).toEqual(['faint', 'unsure']);
    await user.click(choice('unwell', 'none'));
    expect(given()).toEqual(['none']);
  });

  test('the last one taken back leaves the question unanswered', async () => {
    const { user, given } = ask('woundBed');
    await user.click(choice('woundBed', 'red'));
    await user.click(choice('woundBed', 'red'));
    expect(given()).toBeUndefined();
    expect(isAnswered(question('woundBed'), given())).toBe(false);
  });
});

describe('a wound that must stay dry', () => {
  test('is not asked as if it had been rinsed, and is told not to wet it', () => {
    ask('odour', { dry: true });
    expect(screen.getByRole('radiogroup', { name: t('check:odour.askDry') })).toBeTruthy();
    expect(screen.getByText(t('check:odour.lookDry'))).toBeTruthy();
    expect(document.body.textContent).not.toMatch(/rinse|wash/i);
    cleanup();
    ask('odour');
    expect(screen.getByRole('radiogroup', { name: t('check:odour.ask') })).toBeTruthy();
    expect(screen.getByText(t('check:odour.look'))).toBeTruthy();
  });

  test('looks as before where nothing is new: that is stored as the mildest answer', async () => {
    const { user, given } = ask('woundBed', { dry: true });
    await user.click(screen.getByLabelText(t('check:woundBed.codeDry.red')));
    expect(given()).toEqual(['red']);
    // Only the mildest answer reads differently.
    for (const code of ['yellow', 'newBlack', 'deeper', 'boneOrTendon']) expect(choice('woundBed', code)).toBeTruthy();
    expect(screen.queryByLabelText(t('check:woundBed.code.red'))).toBeNull();
  });

  test('"nothing new" cannot stand beside something new; on any other wound red stands beside anything', async () => {
    const { user, given } = ask('woundBed', { dry: true });
    await user.click(screen.getByLabelText(t('check:woundBed.codeDry.red')));
    await user.click(choice('woundBed', 'newBlack'));
    expect(given()).toEqual(['newBlack']);
    await user.click(screen.getByLabelText(t('check:woundBed.codeDry.red')));
    expect(given()).toEqual(['red']);
    cleanup();
    const wet = ask('woundBed');
    await wet.user.click(choice('woundBed', 'red'));
    await wet.user.click(choice('woundBed', 'newBlack'));
    expect(wet.given()).toEqual(['red', 'newBlack']);
  });
});

describe('warmth', () => {
  test('measured pairs are added to what the hand feels, never in its stead', async () => {
    const { user, given } = ask('warmth', { warmthSites: ['heel', 'ball'] });
    await user.click(choice('warmth', 'same'));
    const heel = screen.getByRole('group', { name: 'heel' });
    const [wound, other] = [...heel.querySelectorAll('input')];
    await user.type(wound as Element, '33,1');
    expect(given()).toBe('same');
    await user.type(other as Element, '30.2');
    expect(given()).toEqual({ pairs: [{ site: 'heel', woundSide: 33.1, otherSide: 30.2 }], feel: 'same' });
    await user.click(choice('warmth', 'warmer'));
    expect(given()).toEqual({ pairs: [{ site: 'heel', woundSide: 33.1, otherSide: 30.2 }], feel: 'warmer' });
  });

  test('a reading that no skin has is told at once and does not count', async () => {
    const { user, given } = ask('warmth', { answer: 'same', warmthSites: ['heel'] });
    const [wound, other] = [...screen.getByRole('group', { name: 'heel' }).querySelectorAll('input')];
    await user.type(other as Element, '30');
    await user.type(wound as Element, '91');
    expect(errors()).toEqual([t('check:warmth.range')]);
    expect(given()).toBe('same');
  });

  test('in °F the unit stays with each pair', async () => {
    const { user, given } = ask('warmth', { answer: 'same', warmthSites: ['heel'], units: { temperature: '[degF]', glucose: 'mg/dL' } });
    const [wound, other] = [...screen.getByRole('group', { name: 'heel' }).querySelectorAll('input')];
    await user.type(wound as Element, '91.4');
    await user.type(other as Element, '86');
    expect(given()).toEqual({ pairs: [{ site: 'heel', woundSide: 91.4, otherSide: 86, unit: '[degF]' }], feel: 'same' });
  });

  test('a phone without measuring places asks for the feeling only', () => {
    ask('warmth');
    expect(screen.queryAllByRole('textbox')).toEqual([]);
  });
});

describe('blood sugar', () => {
  test('is kept in the unit it was typed in', async () => {
    const { user, given } = ask('glucose');
    await user.type(field('check:glucose.field'), '142');
    expect(given()).toEqual({ value: 142, unit: 'mg/dL' });
    await user.click(screen.getByLabelText('mmol/L'));
    // 142 mmol/L is no reading: the number is told, not turned into something else.
    expect(given()).toBeUndefined();
    expect(errors()).toEqual([t('check:glucose.range')]);
    await user.clear(field('check:glucose.field'));
    await user.type(field('check:glucose.field'), '7.9');
    expect(given()).toEqual({ value: 7.9, unit: 'mmol/L' });
  });

  test('may be left out', () => {
    ask('glucose');
    expect(errors()).toEqual([]);
    expect(screen.getByText(t('check:glucose.skip'))).toBeTruthy();
    expect(isAnswered(question('glucose'), undefined)).toBe(true);
  });
});

describe('the note', () => {
  test('takes any words as they are, and blanks as nothing', async () => {
    const { user, given } = ask('note');
    await user.type(field('check:note.ask'), '<b>sore</b> at night');
    expect(given()).toBe('<b>sore</b> at night');
    await user.clear(field('check:note.ask'));
    await user.type(field('check:note.ask'), '   ');
    expect(given()).toBeUndefined();
    expect(isAnswered(question('note'), undefined)).toBe(true);
  });
});
