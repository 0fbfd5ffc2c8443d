// @vitest-environment happy-dom
import { cleanup, render, screen } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Paper } from '../../app/clinic/paper.tsx';
import { AboutScreen } from '../../app/screens/settings/settings.tsx';
import { WelcomeScreen } from '../../app/screens/welcome/welcome.tsx';
import { AREAS, isUnchecked, LANGUAGES, loadAreas, switchLanguage, t } from '../../app/words/i18n.ts';
import { demoPlan } from '../care/plan/plans.ts';

beforeEach(() => loadAreas(AREAS));
afterEach(async () => {
  cleanup();
  await switchLanguage('en');
});

const unchecked = Object.keys(LANGUAGES).filter(isUnchecked);
const places = {
  welcome: <WelcomeScreen />,
  about: <AboutScreen />,
  paper: <Paper content={{ plan: demoPlan(), codes: [], words: [], address: '' }} now={Date.parse('2031-03-04T15:00:00Z')} />,
};

describe('a translation that no clinician has checked', () => {
  test('English is what others are translated from', () => {
    expect(isUnchecked('en')).toBe(false);
    expect(isUnchecked('constructor')).toBe(false);
  });

  test.each(unchecked.flatMap((language) => Object.entries(places).map(([place, screen]) => ({ language, place, screen }))))(
    '$language says so on $place, in its own words',
    async ({ language, screen: shown }) => {
      const english = t('common:unchecked');
      await switchLanguage(language);
      render(shown);
      // A no-break space is a letter like another here.
      expect(screen.getByText(t('common:unchecked'), { normalizer: (text) => text }).textContent).not.toBe(english);
    },
  );

  test.each(Object.entries(places))('%s is silent in a language that is no translation', (_, shown) => {
    render(shown);
    expect(screen.queryByText(t('common:unchecked'))).toBeNull();
  });
});
