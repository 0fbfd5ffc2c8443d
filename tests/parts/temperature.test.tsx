// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { TEMPERATURE_SITES } from '../../app/care/check/answers.ts';
import { question } from '../../app/care/check/questions.ts';
import { isAnswered } from '../../app/parts/question.tsx';
import { t } from '../../app/words/i18n.ts';
import { ask, loadEnglish } from './ask.tsx';

beforeAll(loadEnglish);
afterEach(cleanup);

const T = question('temperature');
const F = { units: { temperature: '[degF]', glucose: 'mg/dL' } } as const;
const first = (): HTMLInputElement => screen.getByRole<HTMLInputElement>('textbox', { name: t('check:temperature.field') });
const second = (): HTMLInputElement | null => screen.queryByRole<HTMLInputElement>('textbox', { name: t('check:temperature.again') });
const site = (code: string): HTMLInputElement => screen.getByRole<HTMLInputElement>('radio', { name: t(`check:temperature.site.${code}`) });
const errors = (): (string | null)[] => screen.queryAllByRole('alert').map((e) => e.textContent);
const rangeIn = (low: string, high: string): string => t('check:temperature.range', { low, high });

describe('a measured temperature', () => {
  test('is kept with its unit and the place; no place is chosen beforehand', async () => {
    const { user, given } = ask('temperature');
    for (const code of TEMPERATURE_SITES) expect(site(code).checked).toBe(false);
    await user.type(first(), '36.8');
    expect(given()).toBeUndefined();
    await user.click(site('mouth'));
    expect(given()).toEqual({ value: 36.8, unit: 'Cel', site: 'mouth' });
    await user.click(site('armpit'));
    expect(given()).toEqual({ value: 36.8, unit: 'Cel', site: 'armpit' });
    expect(isAnswered(T, given())).toBe(true);
  });

  test('going on without the place asks for it, and nothing is given', async () => {
    const { user, given } = ask('temperature', { complain: true });
    await user.type(first(), '37.6');
    expect(errors()).toEqual([t('check:temperature.sayWhere')]);
    expect(isAnswered(T, given())).toBe(false);
    await user.click(site('armpit'));
    expect(errors()).toEqual([]);
    expect(given()).toEqual({ value: 37.6, unit: 'Cel', site: 'armpit' });
  });

  test('the place is asked straight after the number, before the unit', () => {
    ask('temperature');
    const names = [...document.querySelectorAll('input')].map((input) => input.labels?.[0]?.textContent);
    const places = TEMPERATURE_SITES.map((code) => t(`check:temperature.site.${code}`));
    expect(names).toEqual([t('check:temperature.field'), ...places, '°C', '°F']);
  });

  test.each(['36,8', ' 36.8 ', '٣٦٫٨'])('%j is 36.8', async (typed) => {
    const { user, given } = ask('temperature');
    await user.type(first(), typed);
    await user.click(site('mouth'));
    expect(given()).toMatchObject({ value: 36.8 });
  });

  test.each(['368', '3.68', '25', '-37', 'warm', '36.8.1'])(
    '%j is no reading in °C: the person is told, and cannot go on',
    async (typed) => {
      const { user, given } = ask('temperature', { complain: true });
      await user.type(first(), typed);
      expect(given()).toBeUndefined();
      expect(errors()).toEqual([rangeIn('30 °C', '45 °C')]);
      expect(first().getAttribute('aria-invalid')).toBe('true');
      expect(isAnswered(T, given())).toBe(false);
    },
  );

  test('the message is tied to the field, so that it is read out there', async () => {
    const { user } = ask('temperature', { complain: true });
    await user.type(first(), '368');
    const message = screen.getByRole('alert');
    expect(first().getAttribute('aria-describedby')).toContain(message.id);
  });

  test('a number that is still being typed is not complained about', async () => {
    const { user } = ask('temperature');
    await user.type(first(), '3');
    expect(errors()).toEqual([]);
    await user.type(first(), '6.');
    expect(errors()).toEqual([]);
  });

  test('going on with nothing typed says what to type', () => {
    ask('temperature', { complain: true });
    expect(errors()).toEqual([t('check:temperature.type')]);
  });

  test('a number that is cleared takes the answer back', async () => {
    const { user, given } = ask('temperature');
    await user.click(site('mouth'));
    await user.type(first(), '36.8');
    expect(given()).toMatchObject({ value: 36.8 });
    await user.clear(first());
    expect(given()).toBeUndefined();
  });
});

describe('a low reading (below 36 °C, escalation rule low-temperature)', () => {
  test('asks for a second one, and alone does not let the person go on', async () => {
    const { user, given } = ask('temperature', { complain: true });
    expect(second()).toBeNull();
    await user.click(site('mouth'));
    await user.type(first(), '35.4');
    expect(second()).not.toBeNull();
    expect(isAnswered(T, given())).toBe(false);
    expect(errors()).toEqual([t('check:temperature.typeAgain')]);
    await user.type(second() as Element, '35.6');
    expect(given()).toEqual({ value: 35.4, again: 35.6, unit: 'Cel', site: 'mouth' });
    expect(isAnswered(T, given())).toBe(true);
    expect(errors()).toEqual([]);
  });

  test('a second reading that no body has is not taken', async () => {
    const { user, given } = ask('temperature');
    await user.click(site('mouth'));
    await user.type(first(), '35.4');
    await user.type(second() as Element, '356');
    expect(isAnswered(T, given())).toBe(false);
  });

  test('36.0 is not low', async () => {
    const { user, given } = ask('temperature');
    await user.click(site('mouth'));
    await user.type(first(), '36.0');
    expect(second()).toBeNull();
    expect(isAnswered(T, given())).toBe(true);
  });
});

describe('in °F', () => {
  test('is kept as typed, in °F', async () => {
    const { user, given } = ask('temperature', F);
    await user.click(site('mouth'));
    await user.type(first(), '100.4');
    expect(given()).toEqual({ value: 100.4, unit: '[degF]', site: 'mouth' });
  });

  test('a reading in neither unit: the range is told in °F', async () => {
    const { user, given } = ask('temperature', { ...F, complain: true });
    await user.type(first(), '368');
    expect(given()).toBeUndefined();
    expect(errors()).toEqual([rangeIn('86 °F', '113 °F')]);
  });

  test.each([
    { chosen: 'Cel', typed: '98.6', other: '°F', unit: '[degF]' },
    { chosen: '[degF]', typed: '37.6', other: '°C', unit: 'Cel' },
  ] as const)('$typed in $chosen asks whether it is in $other, and one tap sets it right', async ({ chosen, typed, other, unit }) => {
    const { user, given } = ask('temperature', { units: { temperature: chosen, glucose: 'mg/dL' } });
    await user.click(site('armpit'));
    await user.type(first(), typed);
    expect(given()).toBeUndefined();
    expect(errors()).toEqual([t('check:temperature.otherUnit', { unit: other })]);
    await user.click(screen.getByRole('button', { name: t('check:temperature.otherUnitYes', { unit: other }) }));
    expect(given()).toEqual({ value: Number(typed), unit, site: 'armpit' });
    expect(errors()).toEqual([]);
    expect(screen.queryByRole('button', { name: /°/ })).toBeNull();
    expect(document.activeElement).toBe(first());
  });

  // Whatever is typed on the way to a reading must not bring up the question.
  test.each([
    ['Cel', '30.1', '38.65', '45'],
    ['[degF]', '86.9', '99.95', '103.4', '113'],
  ] as const)('in %s nothing is asked while a reading is typed', async (chosen, ...readings) => {
    const { user } = ask('temperature', { units: { temperature: chosen, glucose: 'mg/dL' } });
    for (const reading of readings) {
      for (const sign of reading) {
        await user.type(first(), sign);
        expect(screen.queryByRole('button', { name: /°/ })).toBeNull();
      }
      await user.clear(first());
    }
  });

  test('changing the unit keeps the number and judges it anew', async () => {
    const { user, given } = ask('temperature');
    await user.click(site('mouth'));
    await user.type(first(), '98.6');
    expect(given()).toBeUndefined();
    await user.click(screen.getByLabelText('°F'));
    expect(given()).toEqual({ value: 98.6, unit: '[degF]', site: 'mouth' });
    expect(first().value).toBe('98.6');
  });

  test('96.7 °F is low, 96.8 °F is not (36 °C exactly)', async () => {
    const { user } = ask('temperature', F);
    await user.type(first(), '96.7');
    expect(second()).not.toBeNull();
    await user.clear(first());
    await user.type(first(), '96.8');
    expect(second()).toBeNull();
  });
});

describe('without a thermometer', () => {
  test.each(['no', 'yes', 'unsure'])('feeling feverish can be answered with %s', async (code) => {
    const { user, given } = ask('temperature');
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveNone') }));
    expect(given()).toBeUndefined();
    await user.click(screen.getByLabelText(t(`check:temperature.code.${code}`)));
    expect(given()).toEqual({ feelsFeverish: code });
    expect(isAnswered(T, given())).toBe(true);
  });

  test('going on without an answer says so', async () => {
    const { user } = ask('temperature', { complain: true });
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveNone') }));
    expect(errors()).toEqual([t('check:chooseOne')]);
  });

  test('a thermometer that was found after all takes the feeling back', async () => {
    const { user, given } = ask('temperature', { answer: { feelsFeverish: 'no' } });
    await user.click(screen.getByRole('button', { name: t('check:temperature.haveOne') }));
    expect(given()).toBeUndefined();
    await user.click(site('mouth'));
    await user.type(first(), '38.2');
    expect(given()).toMatchObject({ value: 38.2 });
  });
});

test('a stored answer is shown as it was typed, the second reading too', () => {
  ask('temperature', { answer: { value: 35.45, again: 35.6, unit: 'Cel', site: 'ear' } });
  expect(first().value).toBe('35.45');
  expect(second()?.value).toBe('35.6');
  expect(screen.getByLabelText<HTMLInputElement>(t('check:temperature.site.ear')).checked).toBe(true);
});
