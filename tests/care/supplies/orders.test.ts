import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { addDays, DAY_MS, type LocalDay, localDay } from '../../../app/care/schedule/day.ts';
import { orderList, supplies, supplyWarnings } from '../../../app/care/supplies/orders.ts';
import { usesOfChange } from '../../../app/care/supplies/uses.ts';
import { demoPlan } from '../plan/plans.ts';
import { changeAt, entriesOf, every, planWith, stock } from './scenario.ts';

const ZONE = 'America/Chicago';
const NOW = Date.parse('2031-03-04T10:00:00-06:00');
const plan = planWith([{ interval: every(48) }]);
const last = changeAt('c0', NOW, ZONE);
/** A quiet month before, so that early changes are known to be rare. */
const month = Array.from({ length: 15 }, (_, i) => changeAt(`m${i}`, NOW - (28 - 2 * i) * DAY_MS, ZONE));
const warn = (pieces: number, options = {}) =>
  supplyWarnings(plan, entriesOf(...month, stock('counted', pieces, { when: '2031-03-04T15:00' })), NOW, ZONE, options);

describe('warnings', () => {
  it('out when the next change cannot have it, now when a delivery may come too late, soon a few days before, else none', () => {
    expect(warn(0)).toMatchObject([{ item: 'foam', name: 'Foam 10 × 10 cm', level: 'out', usable: 0 }]);
    expect(warn(3)).toMatchObject([{ level: 'now', usable: 3 }]);
    const levels = Array.from({ length: 20 }, (_, i) => warn(i)[0]?.level);
    expect([...new Set(levels)]).toEqual(['out', 'now', 'soon', undefined]);
    expect(levels.filter((l) => l === 'soon').length).toBeGreaterThan(0);
    expect(warn(19)).toEqual([]);
  });

  it('a warning comes no later than ten days before the plan’s own schedule runs dry [TH-15]', () => {
    for (let pieces = 1; pieces < 20; pieces += 1) {
      const dry = 2 * (pieces + 1);
      if (dry <= 10) expect(warn(pieces)[0]?.level, String(pieces)).toBe('now');
    }
  });

  it('says whether it may run out before the visit', () => {
    const withVisit = { ...plan, nextVisit: { day: addDays(localDay(NOW, ZONE), 12), time: '10:30' } };
    const entries = entriesOf(...month, stock('counted', 3, { when: '2031-03-04T15:00' }));
    expect(supplyWarnings(withVisit, entries, NOW, ZONE)[0]?.beforeVisit).toBe(true);
    expect(supplyWarnings(plan, entries, NOW, ZONE)[0]?.beforeVisit).toBe(false);
  });

  it('pieces past their day are no stock', () => {
    const entries = entriesOf(...month, stock('received', 50, { expires: '2031-03-03' as LocalDay, when: '2031-03-01T15:00' }));
    expect(supplyWarnings(plan, entries, NOW, ZONE)).toMatchObject([{ level: 'out', usable: 0, expired: 50 }]);
  });

  it('nobody has counted yet: no warning, but the order list has it and says so', () => {
    expect(supplyWarnings(plan, entriesOf(last), NOW, ZONE)).toEqual([]);
    expect(orderList(plan, entriesOf(last), NOW, ZONE)).toEqual([
      { item: 'foam', name: 'Foam 10 × 10 cm', pieces: 20, packs: 2, packOf: 10, usable: 0, until: '2031-04-02', tracked: false },
    ]);
  });

  it('one piece where a change takes two is out', () => {
    const double = planWith([{ interval: every(48), uses: [{ item: 'foam', amount: 2 }] }]);
    const entries = entriesOf(...month, stock('counted', 1, { when: '2031-03-04T15:00' }));
    expect(supplyWarnings(double, entries, NOW, ZONE)).toMatchObject([{ level: 'out', usable: 1 }]);
  });

  it('the most pressing stands first', () => {
    const two = planWith([
      {
        interval: every(48),
        uses: [
          { item: 'foam', amount: 1 },
          { item: 'gauze', amount: 1 },
        ],
      },
    ]);
    const entries = entriesOf(...month, stock('counted', 4), stock('counted', 0, { item: 'gauze' }));
    expect(supplyWarnings(two, entries, NOW, ZONE).map((w) => [w.item, w.level])).toEqual([
      ['gauze', 'out'],
      ['foam', 'now'],
    ]);
  });
});

describe('a month with the invented plan', () => {
  it('changes run the stock down to the warning, the order list covers it, the delivery clears it', () => {
    const demo = demoPlan();
    const records: LogRecord[] = demo.supplies.map((s) => stock('counted', 40, { item: s.id, when: '2031-03-02T15:00' }));
    let now = Date.parse('2031-03-02T09:30:00-06:00');
    const warnings: string[] = [];
    for (let n = 0; n < 15 && warnings.length === 0; n += 1) {
      const done = changeAt(`c${n}`, now, ZONE);
      const uses = usesOfChange(demo, done, timeline(records));
      records.push(
        done,
        ...uses.map(({ item, amount }) => ({
          ...stock('used', amount, { item, change: done.id }),
          at: done.at,
          day: done.day,
          zone: ZONE,
        })),
      );
      expect(usesOfChange(demo, done, entriesOf(...records))).toEqual([]);
      warnings.push(...supplyWarnings(demo, entriesOf(...records), now, ZONE).map((w) => w.item));
      now += 2 * DAY_MS;
    }
    // Four gauze pads and two pairs of gloves a change: the pads go first.
    expect(warnings).toEqual(['gauze']);
    const order = orderList(demo, entriesOf(...records), now, ZONE);
    expect(order.find((l) => l.item === 'gauze')).toMatchObject({ packs: 1, packOf: 100, tracked: true });
    const came = order.map((l) => ({ ...stock('received', l.pieces, { item: l.item }), at: new Date(now).toISOString() }));
    expect(supplyWarnings(demo, entriesOf(...records, ...came), now, ZONE)).toEqual([]);
    expect(orderList(demo, entriesOf(...records, ...came), now, ZONE).map((l) => l.item)).not.toContain('gauze');
  });
});

describe('plans that have little or nothing', () => {
  it('a plan without supplies has no list, no order and no warning', () => {
    const bare = planWith([{ interval: every(48), uses: [] }], { supplies: [] });
    const entries = entriesOf(last);
    expect([supplies(bare, entries, NOW, ZONE), orderList(bare, entries, NOW, ZONE), supplyWarnings(bare, entries, NOW, ZONE)]).toEqual([
      [],
      [],
      [],
    ]);
  });

  it('an item that a newer plan dropped is shown with what is left, and is neither ordered nor warned about', () => {
    const entries = entriesOf(last, stock('received', 5, { item: 'dropped' }), stock('counted', 40));
    const shown = supplies(plan, entries, NOW, ZONE).find((s) => s.item.id === 'dropped');
    expect(shown).toMatchObject({ item: { source: 'older' }, forecast: { usable: 5 }, warning: undefined });
    expect(orderList(plan, entries, NOW, ZONE).map((l) => l.item)).not.toContain('dropped');
  });

  it('before the first change there is a forecast from today on', () => {
    const [foam] = supplies(plan, entriesOf(stock('counted', 1)), NOW, ZONE);
    expect(foam?.forecast.perDay[0]).toEqual({ day: '2031-03-04', amount: 1 });
    expect(foam?.forecast.runsOut.expected).toBe('2031-03-06');
  });
});
