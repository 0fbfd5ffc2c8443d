// @vitest-environment happy-dom
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, expect, test } from 'vitest';
import type { Plan, Wound } from '../../app/care/plan/plan.ts';
import { PlanScreen } from '../../app/screens/plan/plan.tsx';
import { t } from '../../app/words/i18n.ts';
import { DRY_RECIPE, demoPlan, twoWoundPlan } from '../care/plan/plans.ts';
import { stage } from './stage.tsx';

afterEach(cleanup);

const partOf = (band: string): HTMLElement => {
  const heading = screen.getAllByRole('heading', { level: 3 }).find((h) => h.textContent?.includes(t(`check:drainageAmount.said.${band}`)));
  return heading?.parentElement as HTMLElement;
};
const withBands = (plan: Plan, id: string, bands: Partial<Wound['bands']>): Plan => ({
  ...plan,
  wounds: plan.wounds.map((w) => (w.id === id ? { ...w, bands: { ...w.bands, ...bands } } : w)),
});

test('[drainage-above-plan] under a recipe for more fluid than expected stands the call of the same day', async () => {
  const plan = demoPlan();
  const [wound] = plan.wounds as [Wound];
  const { show } = await stage({ plan: withBands(plan, 'w1', { heavy: wound.bands.moderate }) });
  show(<PlanScreen />);
  expect(within(partOf('heavy')).getByText(t('plan:aboveExpected'))).toBeTruthy();
  expect(screen.getAllByText(t('plan:aboveExpected'))).toHaveLength(1);
});

test('[plan-says-call] for an amount without a recipe the page says to cover the wound, then to call today', async () => {
  const { show } = await stage();
  show(<PlanScreen />);
  expect(within(partOf('heavy')).getByText('Cover it with a clean, dry dressing. Then call your clinic today.')).toBeTruthy();
});

test('[keep-dry-breached] a wound that must stay dry never waits for the same day', async () => {
  const { show } = await stage({ plan: withBands(twoWoundPlan(), 'w2', { light: { recipe: DRY_RECIPE } }) });
  show(<PlanScreen />);
  expect(screen.getByText(t('plan:aboveExpectedNow'))).toBeTruthy();
  expect(screen.getByText(t('plan:callUsNow'))).toBeTruthy();
});
