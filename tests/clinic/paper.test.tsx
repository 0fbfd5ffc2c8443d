// @vitest-environment happy-dom
import { cleanup, render, screen, within } from '@testing-library/preact';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Plan, Wound } from '../../app/care/plan/plan.ts';
import { Paper } from '../../app/clinic/paper.tsx';
import type { PaperContent } from '../../app/clinic/paper-link.ts';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { woundName } from '../../app/words/names.ts';
import { DRY_RECIPE, DRY_WOUND, demoPlan, mustRead } from '../care/plan/plans.ts';

beforeEach(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});
afterEach(cleanup);

/** An address of a domain kept for examples (RFC 2606). */
const ADDRESS = 'https://care.example/';

describe('the take-home page', () => {
  test('names the dry dressing, whichever layer the recipe has it in', () => {
    const { secondary, ...rest } = DRY_RECIPE;
    const own = { ...secondary, name: 'Dry pad of the house' };
    for (const recipe of [
      { ...rest, secondary: own },
      { ...rest, primary: own },
    ]) {
      const plan = mustRead({ ...demoPlan(), wounds: [{ ...DRY_WOUND, bands: { ...DRY_WOUND.bands, none: { recipe } } }] });
      render(<Paper content={{ plan, codes: [], words: [], address: ADDRESS }} now={Date.parse('2031-03-04T15:00:00Z')} />);
      const step = screen.getByText(`${t('change:step.dryDressing.title')}.`).closest('li') as HTMLElement;
      expect(step.textContent).toMatch(/Dry pad of the house/);
      cleanup();
    }
  });
});

const TUESDAY = Date.parse('2031-03-04T15:00:00Z');
const show = (plan: Plan, more: Partial<PaperContent> = {}) =>
  render(<Paper content={{ plan, codes: [], words: [], address: ADDRESS, ...more }} now={TUESDAY} />);
const changed = (part: Partial<Plan>) => mustRead({ ...demoPlan(), ...part });
const [demoWound] = demoPlan().wounds as [Wound];
/** The part of the page for one amount, found by how the amount is said. */
const amountPart = (band: string): HTMLElement =>
  screen
    .getAllByRole('heading', { level: 3 })
    .find((h) => h.textContent?.includes(t(`check:drainageAmount.code.${band}`)))
    ?.closest('.paper-recipe') as HTMLElement;
const callsToday = (): string => document.querySelector('.when-callToday')?.textContent ?? '';

describe('an amount of drainage that asks for a call', () => {
  const [low] = demoWound.expectedDrainage;
  const recipe = Object.values(demoWound.bands).find((b) => 'recipe' in b) as Wound['bands']['none'];

  test('[drainage-above-plan] above the expected range has its recipe and the call, and stands in the list', () => {
    show(
      changed({
        wounds: [{ ...demoWound, expectedDrainage: ['none', 'light'], bands: { ...demoWound.bands, light: recipe, moderate: recipe } }],
      }),
    );
    const above = amountPart('moderate');
    expect(above.textContent).toContain('More fluid than expected. Dress it like this, and call your clinic today.');
    expect(within(above).getByRole('list')).toBeTruthy();
    // One recipe for both amounts is printed twice, for only one of them is a call.
    expect(amountPart('light')).not.toBe(above);
    expect(amountPart('light').textContent).not.toContain('call your clinic');
    expect(callsToday()).toContain(t('paper:amount.above', { amounts: 'some fluid, a lot of fluid' }));
  });

  test('[plan-says-call] "call us" says to cover the wound first, as the guided change does', () => {
    show(changed({ wounds: [{ ...demoWound, expectedDrainage: [low, 'heavy'], bands: { ...demoWound.bands, heavy: { callUs: true } } }] }));
    expect(amountPart('heavy').textContent).toContain('Cover it with a clean, dry dressing. Then call your clinic today.');
    expect(callsToday()).toContain(t('paper:amount.call', { amounts: 'a lot of fluid' }));
  });

  test('[keep-dry-breached] fluid on a wound that must stay dry is a call now, not today', () => {
    show(changed({ wounds: [DRY_WOUND] }));
    expect(amountPart('light').textContent).toContain(t('paper:cover.callNow'));
    expect(document.querySelector('.when-callNow')?.textContent).toContain('a little fluid');
    expect(callsToday()).not.toContain('a little fluid');
  });

  test('an amount known to the clinic asks for no call', () => {
    show(
      changed({
        wounds: [
          {
            ...demoWound,
            expectedDrainage: ['none', 'light'],
            known: ['drainageAmount:moderate'],
            bands: { ...demoWound.bands, moderate: recipe },
          },
        ],
      }),
    );
    expect(amountPart('moderate').textContent).not.toContain('call your clinic');
  });

  test('"call us" stays a call on paper though the amount is known', () => {
    const { bands } = demoWound;
    show(
      changed({
        wounds: [
          {
            ...demoWound,
            expectedDrainage: ['none', 'moderate'],
            known: ['drainageAmount:heavy'],
            bands: { ...bands, heavy: { callUs: true } },
          },
        ],
      }),
    );
    expect(amountPart('heavy').textContent).toContain(t('paper:cover.callToday'));
    expect(callsToday()).toContain('a lot of fluid');
  });

  test('with two wounds the list names the wound', () => {
    show(changed({ wounds: [{ ...demoWound, expectedDrainage: ['none', 'light'] }, DRY_WOUND] }));
    expect(callsToday()).toContain(`${woundName(demoWound)}: More fluid than expected`);
  });
});

describe('the rest of the take-home page', () => {
  test('calls are in the sentences of the phone', () => {
    show(demoPlan());
    const emergency = document.querySelector('.when-emergency')?.textContent ?? '';
    expect(emergency).toContain('No urine since yesterday');
    expect(emergency).not.toContain('How you feel');
    expect(callsToday()).toContain('Swelling: Yes, new or more than before');
  });

  test('hours are told by spans of days, with whom to call outside them', () => {
    const own = demoPlan();
    const week = (['mon', 'tue', 'wed', 'thu', 'fri'] as const).map((day) => ({ day, opens: '08:30', closes: '17:00' }));
    show({ ...own, clinic: { ...own.clinic, hours: week } });
    const said = (document.querySelector('.paper-hours')?.textContent ?? '').replace(/\s/g, ' ');
    expect(said).toBe(`Monday to Friday: 8:30 AM – 5:00 PM. Closed: Saturday and Sunday. ${t('paper:hours.outside')}`);
    cleanup();
    const { outOfHoursPhone: _none, ...without } = own.clinic;
    show({ ...own, clinic: { ...without, hours: week.filter((h) => h.day !== 'wed') } });
    const fewer = (document.querySelector('.paper-hours')?.textContent ?? '').replace(/\s/g, ' ');
    expect(fewer).toContain('Monday, Tuesday, Thursday, and Friday: 8:30');
    expect(fewer).toContain('Closed: Wednesday, Saturday, and Sunday.');
    expect(fewer).toContain(t('paper:hours.department'));
    cleanup();
    show({ ...own, clinic: { ...own.clinic, hours: [] } });
    expect(document.querySelector('.paper-hours')).toBeNull();
  });

  test('each recipe names its wound, and the code has the address of the app beside it', () => {
    show(changed({ wounds: [demoWound, DRY_WOUND] }), { codes: ['https://care.example/#p=1'] });
    for (const heading of document.querySelectorAll('.paper-recipe h3')) {
      const name = heading.closest('section')?.querySelector('h2')?.textContent ?? '?';
      expect(heading.textContent?.startsWith(name)).toBe(true);
    }
    expect(document.querySelectorAll('.paper-wound')).toHaveLength(2);
    expect(document.querySelector('.paper-codes')?.textContent).toContain(ADDRESS);
  });
});
