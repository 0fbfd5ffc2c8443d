// @vitest-environment happy-dom
import { cleanup, render, screen } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Paper } from '../../app/clinic/paper.tsx';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { DRY_RECIPE, DRY_WOUND, demoPlan, mustRead } from '../care/plan/plans.ts';

beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(cleanup);

describe('the take-home page', () => {
  test('names the dry dressing, whichever layer the recipe has it in', () => {
    const { secondary, ...rest } = DRY_RECIPE;
    const own = { ...secondary, name: 'Dry pad of the house' };
    for (const recipe of [
      { ...rest, secondary: own },
      { ...rest, primary: own },
    ]) {
      const plan = mustRead({ ...demoPlan(), wounds: [{ ...DRY_WOUND, bands: { ...DRY_WOUND.bands, none: { recipe } } }] });
      render(<Paper content={{ plan, codes: [], words: [] }} now={Date.parse('2031-03-04T15:00:00Z')} />);
      const step = screen.getByText(`${t('change:step.dryDressing.title')}.`).closest('li') as HTMLElement;
      expect(step.textContent).toMatch(/Dry pad of the house/);
      cleanup();
    }
  });
});
