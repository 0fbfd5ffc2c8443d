// @vitest-environment happy-dom
import { cleanup, screen, within } from '@testing-library/preact';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { OrderScreen } from '../../app/screens/supplies/order.tsx';
import { SuppliesScreen } from '../../app/screens/supplies/supplies.tsx';
import { SupplyScreen } from '../../app/screens/supplies/supply.tsx';
import { SuppliesNotice } from '../../app/screens/today/supplies-notice.tsx';
import { t } from '../../app/words/i18n.ts';
import { alert, stamp } from '../care/log/make.ts';
import { demoPlan, mustRead } from '../care/plan/plans.ts';
import { type Stage, stage } from './stage.tsx';

afterEach(cleanup);

const GAUZE = 'Gauze pads';
const COLLAGEN = 'Collagen sheet 5 × 5 cm';

let people = 0;
/** A phone with a book that no test before has counted in: counts not yet saved are kept per book. */
function phone(records: LogRecord[] = []): Promise<Stage> {
  const plan = demoPlan();
  return stage({ plan: mustRead({ ...plan, person: { ...plan.person, id: `person-${++people}` } }), records });
}

const counted = (item: string, amount: number): LogRecord => ({
  ...stamp(`counted-${item}`, '2031-03-01T09:00'),
  kind: 'stock',
  item,
  movement: 'counted',
  amount,
});

const row = async (name: string) => within((await screen.findByRole('link', { name })).closest('li') as HTMLElement);
const shown = async (name: string): Promise<string | null> =>
  (await row(name)).getByRole('status', { name: t('supplies:countOf', { name }) }).textContent;
const tap = async ({ user }: Stage, key: 'more' | 'less', name: string): Promise<void> =>
  user.click((await row(name)).getByRole('button', { name: t(`supplies:${key}`, { name }) }));
const button = (key: string, values = {}): HTMLElement => screen.getByRole('button', { name: t(key, values) });
const movements = ({ written }: Stage) => written('stock').map((r) => [r.item, r.movement, r.amount]);

describe('counting', () => {
  test('what nobody has counted has no number, and zero can be said of it', async () => {
    const all = await phone([counted('collagen', 4)]);
    all.show(<SuppliesScreen />);
    expect(await shown(GAUZE)).toBe('?');
    expect((await row(GAUZE)).getByText(t('supplies:notCounted'))).toBeTruthy();
    expect(await shown(COLLAGEN)).toBe('4');
    await tap(all, 'less', GAUZE);
    expect(await shown(GAUZE)).toBe('0');
    expect(
      (await row(GAUZE))
        .getByRole<HTMLButtonElement>('button', { name: t('supplies:less', { name: GAUZE }) })
        .getAttribute('aria-disabled'),
    ).toBe('true');
    await all.user.click(button('supplies:saveCounts', { count: 1 }));
    await screen.findByText(t('supplies:saved'));
    expect(movements(all).slice(1)).toEqual([['gauze', 'counted', 0]]);
    await vi.waitFor(async () => expect(await shown(GAUZE)).toBe('0'));
  });

  test('the first plus makes one', async () => {
    const all = await phone();
    all.show(<SuppliesScreen />);
    await tap(all, 'more', GAUZE);
    expect(await shown(GAUZE)).toBe('1');
  });

  test('a count survives a look at the item, is told there, and is saved once', async () => {
    const all = await phone();
    all.show(<SuppliesScreen />);
    await tap(all, 'more', GAUZE);
    await tap(all, 'more', GAUZE);
    all.show(<SupplyScreen id="gauze" />);
    await screen.findByText(t('supplies:notSavedYet', { amount: '2' }));
    all.show(<SuppliesScreen />);
    expect(await shown(GAUZE)).toBe('2');
    await all.user.click(button('supplies:saveCounts', { count: 1 }));
    await screen.findByText(t('supplies:saved'));
    all.show(<SuppliesScreen />);
    expect(await shown(GAUZE)).toBe('2');
    expect(screen.queryByRole('button', { name: t('supplies:saveCounts', { count: 1 }) })).toBeNull();
    expect(movements(all)).toEqual([['gauze', 'counted', 2]]);
  });

  test('a count of one person is not shown in the book of another', async () => {
    const first = await phone();
    first.show(<SuppliesScreen />);
    await tap(first, 'more', GAUZE);
    const second = await phone();
    second.show(<SuppliesScreen />);
    expect(await shown(GAUZE)).toBe('?');
  });

  test('a delivery after a count that is not saved comes on top of it', async () => {
    const all = await phone();
    all.show(<SuppliesScreen />);
    await tap(all, 'more', COLLAGEN);
    await tap(all, 'more', COLLAGEN);
    all.device.setClock('2031-03-04T15:10:00Z');
    all.show(<SupplyScreen id="collagen" />);
    await all.user.click(await screen.findByRole('button', { name: t('supplies:delivery') }));
    await all.user.type(screen.getByRole('textbox', { name: t('supplies:packs') }), '2');
    await all.user.click(button('common:save'));
    // Two were there, and two packs of five came.
    await screen.findByText(t('supplies:left', { count: 12 }));
    all.show(<SuppliesScreen />);
    expect(await shown(COLLAGEN)).toBe('12');
  });
});

describe('one item', () => {
  test('that nobody has counted is said to be so, not to be gone', async () => {
    const { show } = await phone();
    show(<SupplyScreen id="gauze" />);
    expect(await screen.findByText(t('supplies:notCounted'))).toBeTruthy();
    expect(screen.queryByText(t('supplies:left', { count: 0 }))).toBeNull();
  });

  test.each(['100', '0'])('its count can be typed: %s', async (typed) => {
    const all = await phone();
    all.show(<SupplyScreen id="gauze" />);
    await all.user.click(await screen.findByRole('button', { name: t('supplies:setCount') }));
    await all.user.click(button('common:save'));
    expect(screen.getByRole('alert').textContent).toBe(t('supplies:countWrong'));
    await all.user.type(screen.getByRole('textbox', { name: t('supplies:pieces') }), typed);
    await all.user.click(button('common:save'));
    await screen.findByText(t('supplies:left', { count: Number(typed) }));
    expect(movements(all)).toEqual([['gauze', 'counted', Number(typed)]]);
  });

  test('a typed count takes the place of one that was not saved', async () => {
    const all = await phone();
    all.show(<SuppliesScreen />);
    await tap(all, 'more', GAUZE);
    all.show(<SupplyScreen id="gauze" />);
    await all.user.click(await screen.findByRole('button', { name: t('supplies:setCount') }));
    await all.user.type(screen.getByRole('textbox', { name: t('supplies:pieces') }), '80');
    await all.user.click(button('common:save'));
    await screen.findByText(t('supplies:left', { count: 80 }));
    expect(movements(all)).toEqual([['gauze', 'counted', 80]]);
    all.show(<SuppliesScreen />);
    expect(await shown(GAUZE)).toBe('80');
  });
});

describe('ordering', () => {
  test('what runs short bears a word, not the shape of a call', async () => {
    const { show } = await phone([counted('collagen', 1), counted('gauze', 900)]);
    show(<SuppliesScreen />);
    expect((await row(COLLAGEN)).getByText(t('supplies:order'))).toBeTruthy();
    expect((await row(GAUZE)).queryByText(t('supplies:order'))).toBeNull();
    expect(document.querySelector('.stock svg')).toBeNull();
  });

  test('the order begins with what is not counted yet', async () => {
    const { show } = await phone([counted('collagen', 1)]);
    show(<OrderScreen />);
    const line = await screen.findByText(t('supplies:countFirst'));
    expect(screen.getByRole('heading', { level: 1 }).nextElementSibling).toBe(line);
  });

  test('once all is counted the line is gone', async () => {
    const { show } = await phone(demoPlan().supplies.map(({ id }) => counted(id, 1)));
    show(<OrderScreen />);
    await screen.findByText(t('supplies:neverStretch'));
    expect(screen.queryByText(t('supplies:countFirst'))).toBeNull();
  });
});

describe('the line on the first screen', () => {
  const withClosed = (closedDays: string[]) => {
    const plan = demoPlan();
    const counts = plan.supplies.map(({ id }) => counted(id, id === 'collagen' ? 11 : 900));
    const clinic = { ...plan.clinic, closedDays };
    return stage({ plan: mustRead({ ...plan, clinic, person: { ...plan.person, id: `person-${++people}` } }), records: counts });
  };

  test('it comes earlier when the clinic is closed on the day to order, as the order list has it', async () => {
    const open = await withClosed([]);
    open.show(<SuppliesScreen />);
    await shown(COLLAGEN);
    expect((await row(COLLAGEN)).queryByText(t('supplies:order'))).toBeNull();
    open.show(<SuppliesNotice />);
    await new Promise((done) => setTimeout(done, 100));
    expect(screen.queryByRole('region', { name: t('today:supplies') })).toBeNull();

    const closed = await withClosed(['05', '06', '07', '08', '09', '10', '11', '12'].map((d) => `2031-03-${d}`));
    closed.show(<SuppliesScreen />);
    expect((await row(COLLAGEN)).getByText(t('supplies:order'))).toBeTruthy();
    closed.show(<SuppliesNotice />);
    expect((await screen.findByRole('region', { name: t('today:supplies') })).textContent).toContain(COLLAGEN);

    // Whom to call goes before what to order.
    await closed.notebook.append([alert('a1', '2031-03-04T14:00')]);
    await vi.waitFor(() => expect(screen.queryByRole('region', { name: t('today:supplies') })).toBeNull());
  });
});
