import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Plan } from '../../../app/care/plan/plan.ts';
import { type PlansOfBook, planOfTwo } from '../../../app/care/plan/two-books.ts';
import { demoPlan } from './plans.ts';

const plan = (more: Partial<Plan> = {}): Plan => ({ ...demoPlan(), ...more });
const book = (inForce: Plan, ...earlierPlans: Plan[]): PlansOfBook => ({ plan: inForce, earlierPlans });
const other = (more: Partial<Plan> = {}): Plan => plan({ id: 'birch-1', ...more });

describe('the plan in force of two books of one person', () => {
  test('where there was none, the other’s takes effect; where both have the same, nothing changes', () => {
    expect(planOfTwo(undefined, book(plan()))).toBe('new');
    expect(planOfTwo(book(plan()), book(plan()))).toBe('same');
  });

  test('of one plan the higher revision, whatever the days say', () => {
    expect(planOfTwo(book(plan({ revision: 2 })), book(plan({ revision: 3 })))).toBe('taken');
    expect(
      planOfTwo(
        book(plan({ revision: 3, issued: '2031-03-01' as Plan['issued'] })),
        book(plan({ revision: 2, issued: '2031-03-09' as Plan['issued'] })),
      ),
    ).toBe('kept');
  });

  test('one version number with two contents is never settled in silence', () => {
    expect(planOfTwo(book(plan()), book(plan({ greeting: 'Other.' })))).toBe('conflict');
  });

  test('of two plans the one that a person put in the other’s place, whichever was issued later', () => {
    const late = plan({ issued: '2031-09-09' as Plan['issued'] });
    expect(planOfTwo(book(late), book(other(), plan()))).toBe('taken');
    expect(planOfTwo(book(other(), late), book(plan({ revision: 9 })))).toBe('kept');
  });

  test('of two plans that never met the one issued later', () => {
    expect(planOfTwo(book(plan({ issued: '2031-03-01' as Plan['issued'] })), book(other({ issued: '2031-03-02' as Plan['issued'] })))).toBe(
      'taken',
    );
    expect(planOfTwo(book(other({ issued: '2031-03-02' as Plan['issued'] })), book(plan({ issued: '2031-03-01' as Plan['issued'] })))).toBe(
      'kept',
    );
  });

  test('both phones come to the same plan, but for a conflict, where both keep their own', () => {
    const plans = fc
      .record({
        id: fc.constantFrom('alder', 'birch', 'cedar'),
        revision: fc.integer({ min: 1, max: 3 }),
        day: fc.integer({ min: 1, max: 3 }),
        text: fc.constantFrom('a', 'b'),
      })
      .map(({ id, revision, day, text }) => plan({ id, revision, issued: `2031-03-0${day}` as Plan['issued'], greeting: text }));
    const books = fc.tuple(plans, fc.array(plans, { maxLength: 2 })).map(([inForce, earlier]) => book(inForce, ...earlier));
    fc.assert(
      fc.property(books, books, (a, b) => {
        const [here, there] = [planOfTwo(a, b), planOfTwo(b, a)];
        if (here === 'conflict' || here === 'same') {
          expect(there).toBe(here);
          return;
        }
        const atA = here === 'taken' ? b.plan : a.plan;
        const atB = there === 'taken' ? a.plan : b.plan;
        expect(atA).toEqual(atB);
        // Once merged, merging again changes nothing.
        const merged = book(atA, ...a.earlierPlans, ...b.earlierPlans, atA === a.plan ? b.plan : a.plan);
        expect(planOfTwo(merged, b)).not.toBe('taken');
      }),
      { numRuns: 1_000 },
    );
  });
});
