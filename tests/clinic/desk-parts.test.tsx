// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, within } from '@testing-library/preact';
import { useState } from 'preact/hooks';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { findings } from '../../app/care/plan/findings.ts';
import type { LocalDay } from '../../app/care/schedule/day.ts';
import { DatesForm } from '../../app/clinic/dates-form.tsx';
import { DeskContext } from '../../app/clinic/desk-context.ts';
import { addWound, type DeskState, setWound } from '../../app/clinic/desk-state.ts';
import { draftWoundName } from '../../app/clinic/draft-names.ts';
import { cssString } from '../../app/clinic/paper-footer.ts';
import { RulesForm } from '../../app/clinic/rules-form.tsx';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { demoPlan } from '../care/plan/plans.ts';

beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(cleanup);

/** A Sunday; the demo's clinic is open on weekdays. */
const SUNDAY = '2031-03-02' as LocalDay;
let now: DeskState;
const begin = (): DeskState => ({ draft: demoPlan(), seen: {}, follows: [], onHand: {} });

function Stage({ children }: { children: preact.ComponentChildren }) {
  const [state, setState] = useState(begin);
  now = state;
  return (
    <DeskContext.Provider value={{ state, edit: setState, wound: 'w1', today: SUNDAY, nameOf: (need) => need.id }}>
      {children}
    </DeskContext.Provider>
  );
}

describe('the dates', () => {
  test('"in N weeks" goes to a day when the clinic is open, and makes up no time: that stops until it is filled in', () => {
    render(
      <Stage>
        <DatesForm />
      </Stage>,
    );
    // Without a visit there is no time to keep.
    fireEvent.input(screen.getByLabelText(t('clinic:dates.visit')), { target: { value: '' } });
    fireEvent.click(screen.getByRole('button', { name: t('clinic:dates.weeks', { count: 2 }) }));
    expect([now.draft.reviewBy, now.draft.nextVisit]).toEqual(['2031-03-17', { day: '2031-03-17', time: '' }]);
    const stops = () => findings(now.draft, {}, { today: SUNDAY }).filter((f) => f.gravity === 'stops');
    expect(stops().map((f) => f.id)).toEqual(['visit-time']);
    fireEvent.input(screen.getByLabelText(t('clinic:dates.time')), { target: { value: '10:30' } });
    expect(stops()).toEqual([]);
    // Sunday in four weeks: the next open day would be too late for the review, so it is the Friday before.
    fireEvent.click(screen.getByRole('button', { name: t('clinic:dates.weeks', { count: 4 }) }));
    expect([now.draft.reviewBy, now.draft.nextVisit]).toEqual(['2031-03-28', { day: '2031-03-28', time: '10:30' }]);
  });
});

describe('what is already known', () => {
  test('is offered where it can go quiet, and never as an amount of drainage', () => {
    render(
      <Stage>
        <RulesForm />
      </Stage>,
    );
    const offered = within(screen.getByLabelText(t('clinic:rules.known')))
      .getAllByRole('option')
      .map((o) => (o as HTMLOptionElement).value);
    expect(offered).toContain('swelling:new');
    expect(offered).not.toContain('pain:severe');
    expect(offered.filter((f) => f.startsWith('drainageAmount'))).toEqual([]);
  });
});

describe('a wound whose place is not chosen yet', () => {
  test('is called by its number and what is known of it', () => {
    const state = addWound(begin());
    const name = (s: DeskState) => draftWoundName(s.draft, s.draft.wounds[1] as never);
    expect(name(state)).toBe('Wound 2');
    expect(name(setWound('w2', { side: 'left' })(state))).toBe('Wound 2 (Left foot)');
    expect(name(setWound('w2', { side: 'left', site: 'bigToe' })(state))).toBe('Left foot, big toe');
  });
});

test('a name cannot end the foot of the paper and begin rules of its own', () => {
  expect(cssString('Ne"la} * { display: none } \\')).toBe('"Ne\\22 la} * { display: none } \\5c "');
  expect(cssString('a\nb')).toBe('"a\\a b"');
});
