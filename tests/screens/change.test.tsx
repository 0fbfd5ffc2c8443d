// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from '@testing-library/preact';
import { afterEach, expect, test } from 'vitest';
import type { Wound } from '../../app/care/plan/plan.ts';
import { ChangeScreen } from '../../app/screens/change/change.tsx';
import { stepsOf } from '../../app/screens/change/finished.ts';
import type { ChangeDraft } from '../../app/store/drafts.ts';
import { t } from '../../app/words/i18n.ts';
import { check } from '../care/log/make.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { stage } from './stage.tsx';

afterEach(cleanup);

const title = (): string | null => screen.getByRole('heading', { level: 1 }).textContent;
const wound = demoPlan().wounds[0] as Wound;
const LOOKED: ChangeDraft = {
  id: 'change-1',
  startedAt: '2031-03-04T15:00:00Z',
  wound: wound.id,
  check: 'c',
  position: 0,
  look: 0,
  answers: { drainageAmount: 'light', drainageColour: 'clear', odour: 'none', redness: 'none', woundBed: ['red'], edge: 'usual' },
  path: 'recipe',
  asked: undefined,
  interrupted: undefined,
  alert: undefined,
  gathered: [],
  states: {},
};

test('finished, the page stays as it is until the next one comes, and no new change begins', async () => {
  const { show, user, notebook, written } = await stage({ records: [check('c', '2031-03-04T14:30')] });
  await notebook.saveChangeDraft({ ...LOOKED, position: stepsOf(wound, LOOKED).steps.length - 1 });
  show(<ChangeScreen woundId={wound.id} />);
  const before = title();
  await user.click(screen.getByRole('button', { name: t('change:finish') }));
  await waitFor(() => expect(location.hash).toBe('#/changed/change-1'));
  expect(notebook.state.changeDraft).toBeUndefined();
  expect(written('change')).toHaveLength(1);
  expect(title()).toBe(before);
});

test('[drainage-above-plan] more fluid than expected is told with the call before the new dressing goes on, and only then', async () => {
  const plan = demoPlan();
  const wet = { ...wound, bands: { ...wound.bands, heavy: wound.bands.moderate } };
  const { show, user, notebook } = await stage({ plan: { ...plan, wounds: [wet] }, records: [check('c', '2031-03-04T14:30')] });
  const draft = { ...LOOKED, answers: { ...LOOKED.answers, drainageAmount: 'heavy' } };
  await notebook.saveChangeDraft({ ...draft, position: stepsOf(wet, draft).before.length });
  show(<ChangeScreen woundId={wound.id} />);
  expect(screen.getByText(t('plan:aboveExpected'))).toBeTruthy();
  await user.click(screen.getByRole('button', { name: t('change:doneNext') }));
  expect(screen.queryByText(t('plan:aboveExpected'))).toBeNull();
});
