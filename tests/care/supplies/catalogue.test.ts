import { describe, expect, it } from 'vitest';
import type { ChangeRecord, LogRecord, RecordOf } from '../../../app/care/log/records.ts';
import { catalogue } from '../../../app/care/supplies/catalogue.ts';
import { usedRecordsOf, usesOfChange } from '../../../app/care/supplies/uses.ts';
import { change, stamp, withdrawal } from '../log/make.ts';
import { demoPlan, mustRead } from '../plan/plans.ts';
import { entriesOf, every, planWith, stock } from './scenario.ts';

const own = (item: string, name: string, more: Partial<RecordOf<'ownItem'>> = {}): LogRecord => ({
  ...stamp(`o-${item}-${name.length}`),
  kind: 'ownItem',
  item,
  name,
  ...more,
});
const ids = (items: ReturnType<typeof catalogue>) => items.map((i) => [i.id, i.source]);

describe('the catalogue', () => {
  const plan = planWith([{ interval: every(48), uses: [{ item: 'foam', amount: 1 }] }]);

  it('holds what a recipe uses, with name and pack', () => {
    expect(catalogue(plan, [])).toEqual([{ id: 'foam', name: 'Foam 10 × 10 cm', packOf: 10, source: 'plan', inRecipe: true }]);
    expect(catalogue(demoPlan(), [])).toHaveLength(demoPlan().supplies.length);
  });

  it('another item of the plan once it has moved, and the person’s own at once', () => {
    const entries = entriesOf(stock('received', 5, { item: 'gauze' }), own('mine', 'Zinc tape', { packOf: 2 }));
    expect(catalogue(plan, entries)).toEqual([
      { id: 'foam', name: 'Foam 10 × 10 cm', packOf: 10, source: 'plan', inRecipe: true },
      { id: 'gauze', name: 'Gauze pads', packOf: 100, source: 'plan', inRecipe: false },
      { id: 'mine', name: 'Zinc tape', packOf: 2, source: 'own', inRecipe: false },
    ]);
  });

  it('an item that a newer plan no longer has stays while pieces are there, with its name if the older plan is at hand', () => {
    const older = mustRead({ ...plan, revision: 1, supplies: [...plan.supplies, { id: 'honeycomb', name: 'Mesh 5 × 5 cm', packOf: 4 }] });
    const some = entriesOf(stock('received', 5, { item: 'honeycomb' }));
    expect(catalogue(plan, some, [older]).at(-1)).toEqual({
      id: 'honeycomb',
      name: 'Mesh 5 × 5 cm',
      packOf: 4,
      source: 'older',
      inRecipe: false,
    });
    expect(catalogue(plan, some).at(-1)).toEqual({ id: 'honeycomb', source: 'older', inRecipe: false });
    const none = entriesOf(stock('received', 5, { item: 'honeycomb' }), stock('used', 5, { item: 'honeycomb' }));
    expect(ids(catalogue(plan, none, [older]))).toEqual([['foam', 'plan']]);
  });

  it('an own item that was taken back is gone, unless pieces of it are there; one corrected has its new name', () => {
    const mine = own('mine', 'Zinc tape');
    const gone = withdrawal('v', mine.id, '2031-03-04T10:00');
    expect(ids(catalogue(plan, entriesOf(mine, gone)))).toEqual([['foam', 'plan']]);
    const left = catalogue(plan, entriesOf(mine, gone, stock('counted', 3, { item: 'mine' })));
    expect(left.at(-1)).toEqual({ id: 'mine', name: 'Zinc tape', source: 'older', inRecipe: false });
    const renamed = { ...own('mine', 'Zinc tape 5 cm'), amends: mine.id } as LogRecord;
    expect(catalogue(plan, entriesOf(mine, renamed)).at(-1)?.name).toBe('Zinc tape 5 cm');
  });

  it('where the plan and the person name the same item, the plan’s stands, once', () => {
    expect(catalogue(plan, entriesOf(own('foam', 'Sponge')))).toHaveLength(1);
  });

  it('a plan without supplies has an empty catalogue', () => {
    expect(catalogue(planWith([{ interval: every(48), uses: [] }], { supplies: [] }), [])).toEqual([]);
  });
});

describe('what a change used', () => {
  const plan = demoPlan();
  const light = [
    { item: 'collagen', amount: 1 },
    { item: 'foam', amount: 1 },
    { item: 'saline', amount: 1 },
    { item: 'gauze', amount: 4 },
    { item: 'gloves', amount: 2 },
    { item: 'film', amount: 1 },
  ];

  it('is what the recipe of its band says', () => {
    expect(usesOfChange(plan, change('c1'))).toEqual(light);
    expect(usesOfChange(plan, change('c1', undefined, { band: 'moderate' })).map((u) => u.item)).toContain('alginate');
  });

  it.each<[string, Partial<ChangeRecord>]>([
    ['broken off', { stopped: true }],
    ['only covered', { path: 'coverAndCall' }],
    ['of a band without a recipe', { band: 'heavy' }],
    ['of a wound the plan does not have', { wound: 'gone' }],
  ])('is nothing for a change %s', (_name, more) => {
    expect(usesOfChange(plan, change('c1', undefined, more))).toEqual([]);
  });

  it('is nothing where no band was followed', () => {
    const { band: _, ...none } = change('c1');
    expect(usesOfChange(plan, none as ChangeRecord)).toEqual([]);
  });

  it('is not written twice: not after a correction of the change, not after the record was taken back', () => {
    const used = stock('used', 1, { change: 'c1' });
    const entries = entriesOf(change('c1'), used);
    expect(usesOfChange(plan, change('c1'), entries)).toEqual([]);
    expect(usesOfChange(plan, change('c9', undefined, { amends: 'c1' }), entries)).toEqual([]);
    expect(usesOfChange(plan, change('c2'), entries)).toEqual(light);
    const taken = entriesOf(change('c1'), used, withdrawal('v', used.id, '2031-03-04T10:00'));
    expect(usesOfChange(plan, change('c1'), taken)).toEqual([]);
    expect(usedRecordsOf(taken, 'c1').map((e) => e.voided?.id)).toEqual(['v']);
  });
});
