// @vitest-environment happy-dom
import { cleanup, screen } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { OneSettingScreen } from '../../app/screens/settings/one-setting.tsx';
import { PeopleScreen, SettingsScreen } from '../../app/screens/settings/settings.tsx';
import { GROUPS } from '../../app/screens/settings/values.ts';
import { switchLanguage, t } from '../../app/words/i18n.ts';
import { stage } from './stage.tsx';

afterEach(async () => {
  cleanup();
  await switchLanguage('en');
});

const line = (name: string) => screen.getByRole('link', { name: new RegExp(`^${t(`settings:${name}`).replace(/[?]/g, '\\?')}`) });

describe('the settings', () => {
  test('say on one page what is chosen, each with a page of its own', async () => {
    const { show, notebook } = await stage();
    await notebook.saveSettings({ textSize: 'large', who: 'caregiver', name: 'Ilse', readAloud: true, lengthUnit: 'in' });
    show(<SettingsScreen />);
    expect(line('textSize').textContent).toContain(t('settings:size.large'));
    expect(line('who').textContent).toContain(t('settings:whoIs.caregiver'));
    expect(line('who').textContent).toContain('Ilse');
    expect(line('readAloud').textContent).toContain(t('settings:readAloudIs.yes'));
    expect(line('wideNext').textContent).toContain(t('settings:wideNextIs.no'));
    expect(line('units').textContent).toContain(t('settings:length.in'));
    for (const name of GROUPS.flat()) expect(line(name).getAttribute('href')).toBe(`#/settings/${name}`);
  });

  test.each([
    ['textSize', 'settings:size.largest', { textSize: 'largest' }],
    ['scheme', 'settings:schemeIs.dark', { scheme: 'dark' }],
    ['readAloud', 'settings:readAloudIs.yes', { readAloud: true }],
    ['wideNext', 'settings:wideNextIs.yes', { wideNext: true }],
    ['who', 'settings:whoIs.caregiver', { who: 'caregiver' }],
  ] as const)('%s: a choice holds at once', async (name, label, expected) => {
    const { show, user, notebook } = await stage();
    show(<OneSettingScreen name={name} />);
    await user.click(screen.getByRole('radio', { name: t(label) }));
    await vi.waitFor(() => expect(notebook.state.settings).toMatchObject(expected));
    expect(screen.getByRole<HTMLInputElement>('radio', { name: t(label) }).checked).toBe(true);
  });

  test('a name is kept, and taken away again', async () => {
    const { show, user, notebook } = await stage();
    show(<OneSettingScreen name="who" />);
    await user.type(screen.getByLabelText(t('settings:name')), ' Ilse ');
    await user.tab();
    await vi.waitFor(() => expect(notebook.state.settings.name).toBe('Ilse'));
    await user.clear(screen.getByLabelText(t('settings:name')));
    await user.tab();
    await vi.waitFor(() => expect(notebook.state.settings.name).toBeUndefined());
  });

  test('the language changes with the choice', async () => {
    const { show, user, notebook } = await stage();
    show(<OneSettingScreen name="language" />);
    await user.click(screen.getByRole('radio', { name: 'Français' }));
    await vi.waitFor(() => expect(notebook.state.settings.language).toBe('fr'));
  });

  test('the sample is taken off the phone from below the people', async () => {
    const { show } = await stage();
    show(<PeopleScreen />);
    const [person, remove] = screen.getAllByRole('button', { name: /Nela|sample/i });
    expect(person?.textContent).toContain('Nela');
    expect(remove?.textContent).toBe(t('settings:removeSample'));
  });
});
