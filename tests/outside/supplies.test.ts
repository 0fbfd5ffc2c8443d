import { describe, expect, it } from 'vitest';
import type { Interval } from '../../app/care/plan/plan.ts';
import { addDays, DAY_MS, type LocalDay } from '../../app/care/schedule/day.ts';
import { forecast, LEAD_DAYS, ORDER_DAYS, orderDay } from '../../app/care/supplies/forecast.ts';
import { changesIn } from '../../app/care/supplies/uses.ts';
import { changeAt, entriesOf, every, onDays, planWith } from '../care/supplies/scenario.ts';

/** Supplies for a month against what suppliers and payers print. */

const timesADay = (times: number): Interval => ({ kind: 'timesADay', times });
const threeAWeek = onDays('mon', 'wed', 'fri');
const everyOther = every(48);
const onceAWeek = onDays('tue');

describe('changes in 30 days [EV-SUP-01: arithmetic, no published worked example found]', () => {
  it.each<[string, Interval, number, number]>([
    ['once a day', timesADay(1), 30, 30.3],
    ['three times a day', timesADay(3), 90, 91],
    ['every other day', everyOther, 15, 15.2],
    ['three times a week', threeAWeek, 13, 13],
    ['once a week', onceAWeek, 5, 4.33],
  ])('%s: %j is %d, and agrees with 52/12 weeks a month', (_name, interval, changes, monthly) => {
    expect(changesIn(interval, 30)).toBe(changes);
    // The other custom, a mean month of 4.33 weeks, differs by its 0.4 days and by rounding up.
    expect(Math.abs(changesIn(interval, 30) - monthly)).toBeLessThanOrEqual(1);
  });

  it('payers’ lists that print 12 a month for three a week count four weeks [EV-SUP-02, trade pages]', () => {
    expect([changesIn(threeAWeek, 28), changesIn(threeAWeek, 30)]).toEqual([12, 13]);
  });
});

/**
 * The most that CMS' local coverage determination L33831, Surgical Dressings,
 * takes as usual, for 30 days. Rows marked S2 were seen in copies; those marked
 * M are from memory and wait for a human look at the original.
 */
const TABLE: [string, string, Interval, number, number][] = [
  ['EV-LCD-01, L33831 (S2)', 'alginate or gelling fibre', timesADay(1), 1, 30],
  ['EV-LCD-01, L33831 (S2)', 'alginate rope, two units', timesADay(1), 2, 60],
  ['EV-LCD-02, L33831 (S2)', 'gauze without border', timesADay(3), 1, 90],
  ['EV-LCD-02, L33831 (S2)', 'gauze with border', timesADay(1), 1, 30],
  ['EV-LCD-03, L33831 (S2)', 'absorbent pad without border', timesADay(1), 1, 30],
  ['EV-LCD-03, L33831 (S2)', 'absorbent pad with border', everyOther, 1, 15],
  ['EV-LCD-07, CGS 2025 (7 days from memory)', 'collagen', every(7 * 24), 1, 5],
  ['EV-LCD-08, L33831 (from memory)', 'foam cover', threeAWeek, 1, 13],
  ['EV-LCD-09, L33831 (from memory)', 'foam filler', timesADay(1), 1, 30],
  ['EV-LCD-10, L33831 (from memory)', 'hydrogel cover without border', timesADay(1), 1, 30],
  ['EV-LCD-10, L33831 (from memory)', 'hydrogel cover with border', threeAWeek, 1, 13],
  ['EV-LCD-11, L33831 (from memory)', 'hydrocolloid', threeAWeek, 1, 13],
  ['EV-LCD-12, L33831 (from memory)', 'composite', threeAWeek, 1, 13],
  ['EV-LCD-13, L33831 (from memory)', 'contact layer', onceAWeek, 1, 5],
  ['EV-LCD-14, L33831 (from memory)', 'transparent film', threeAWeek, 1, 13],
  ['EV-LCD-15, L33831 (from memory)', 'impregnated gauze', timesADay(1), 1, 30],
];

describe('an order for 30 days', () => {
  it.each(TABLE)('%s: %s', (_row, _name, interval, amount, units) => {
    const plan = planWith([{ interval, uses: [{ item: 'loose', amount }] }]);
    // On whichever day of the week it is made.
    for (let d = 0; d < 7; d += 1) {
      const now = Date.parse('2031-05-05T20:00:00-05:00') + d * DAY_MS;
      const { toOrder } = forecast(plan, entriesOf(changeAt('c0', now, 'America/Chicago')), 'loose', now, 'America/Chicago');
      expect(toOrder).toMatchObject({ need: units, pieces: units, reason: 'days' });
    }
  });

  it('tape for a small cover changed daily: 60 units of 18 square inches are three rolls of 1 inch by 10 yards [EV-SUP-04, EV-LCD-16; from memory]', () => {
    const plan = planWith([{ interval: timesADay(1), uses: [{ item: 'tape', amount: 2 }] }], {
      supplies: [{ id: 'tape', name: 'Tape, units of 18 square inches', packOf: 360 / 18 }],
    });
    const now = Date.parse('2031-05-05T20:00:00-05:00');
    const { toOrder } = forecast(plan, entriesOf(changeAt('c0', now, 'America/Chicago')), 'tape', now, 'America/Chicago');
    expect(toOrder).toMatchObject({ need: 60, packs: 3 });
    expect(60 * 18).toBe(3 * 36 * 10);
  });
});

describe('when to order', () => {
  it('ten days before the end, the soonest that a refill may come [EV-SUP-03, CMS DMEPOS refill requirements, November 2025]', () => {
    expect(LEAD_DAYS).toBe(10);
    expect(orderDay('2031-05-20' as LocalDay)).toBe(addDays('2031-05-20' as LocalDay, -10));
  });

  it('a month is 30 days, so never more than one month at a time [EV-LCD-06, CGS and Noridian]', () => {
    expect(ORDER_DAYS).toBe(30);
  });
});
