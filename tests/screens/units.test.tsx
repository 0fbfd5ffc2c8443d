// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { CheckScreen } from '../../app/screens/check/check.tsx';
import { OneSettingScreen } from '../../app/screens/settings/one-setting.tsx';
import { unitsIn, unitsOf } from '../../app/screens/units.ts';
import { t } from '../../app/words/i18n.ts';
import { mildItems, stage } from './stage.tsx';

afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const languages = (...tags: string[]) => vi.spyOn(navigator, 'languages', 'get').mockReturnValue(tags);
const radio = (name: string): HTMLInputElement => screen.getByRole<HTMLInputElement>('radio', { name });

describe('the units of a region', () => {
  // From memory: what thermometers, meters and rulers show there.
  test.each([
    ['US', '[degF]', 'mg/dL', 'in'],
    ['PR', '[degF]', 'mg/dL', 'in'],
    ['us', '[degF]', 'mg/dL', 'in'],
    ['MX', 'Cel', 'mg/dL', 'cm'],
    ['DE', 'Cel', 'mg/dL', 'cm'],
    ['JP', 'Cel', 'mg/dL', 'cm'],
    ['GB', 'Cel', 'mmol/L', 'cm'],
    ['CA', 'Cel', 'mmol/L', 'cm'],
    ['NZ', 'Cel', 'mmol/L', 'cm'],
    ['CN', 'Cel', 'mmol/L', 'cm'],
    ['ZA', 'Cel', 'mmol/L', 'cm'],
    [undefined, 'Cel', 'mg/dL', 'cm'],
  ])('%s: %s, %s, %s', (region, temperature, glucose, length) => {
    expect(unitsIn(region)).toEqual({ temperature, glucose, length });
  });
});

describe('the units in use', () => {
  test('are those of the phone’s region until another is chosen, each for itself', async () => {
    languages('es', 'en-US');
    const { notebook } = await stage();
    expect(unitsOf(notebook.state)).toEqual({ temperature: '[degF]', glucose: 'mg/dL', length: 'in' });
    await notebook.saveSettings({ temperatureUnit: 'Cel' });
    expect(unitsOf(notebook.state)).toEqual({ temperature: 'Cel', glucose: 'mg/dL', length: 'in' });
    await notebook.saveSettings({ region: 'GB' });
    expect(unitsOf(notebook.state)).toEqual({ temperature: 'Cel', glucose: 'mmol/L', length: 'cm' });
  });

  test('the settings show them as chosen, and keep another choice', async () => {
    languages('en-GB');
    const { show, user, notebook } = await stage();
    show(<OneSettingScreen name="units" />);
    expect([radio('°C').checked, radio('mmol/L').checked, radio(t('settings:length.cm')).checked]).toEqual([true, true, true]);
    await user.click(radio('mg/dL'));
    await vi.waitFor(() => expect(notebook.state.settings.glucoseUnit).toBe('mg/dL'));
    expect(notebook.state.settings.temperatureUnit).toBeUndefined();
    await vi.waitFor(() => expect(radio('mg/dL').checked).toBe(true));
  });

  test('on a phone from the USA the check asks in °F', async () => {
    languages('en-US');
    const { show, notebook } = await stage();
    await notebook.saveCheckDraft({
      id: 'c',
      startedAt: '2031-03-04T15:00:00Z',
      at: 'temperature',
      answers: { ...mildItems(), temperature: undefined },
    });
    show(<CheckScreen />);
    expect(radio('°F').checked).toBe(true);
  });
});
