import { describe, expect, it } from 'vitest';
import { checkItems, lookQuestions, sortAnswers } from '../../../app/care/check/items.ts';
import { type Plan, readPlan, type Side } from '../../../app/care/plan/plan.ts';
import demo from '../../../assets/demo/plan.json' with { type: 'json' };
import { OPEN_IDS } from '../escalation/arbitraries.ts';

/** The demo plan with wounds of these ids and sides, asking what is named. */
function planWith(wounds: readonly [string, Side][], asks: Plan['asks'] = []): Plan {
  const reading = readPlan(demo.plan);
  if (!reading.ok) throw new Error('the demo plan is no plan');
  const [wound] = reading.plan.wounds;
  if (!wound) throw new Error('the demo plan has no wound');
  return { ...reading.plan, asks, wounds: wounds.map(([id, side]) => ({ ...wound, id, side })) };
}
const keys = (plan: Plan): string[] => checkItems(plan).map((item) => item.key);

describe('the screens of a check', () => {
  it('one wound: each question once', () => {
    expect(keys(planWith([['w1', 'left']]))).toEqual([
      'unwell',
      'temperature',
      'footColour@left',
      'pain@left',
      'warmth@left',
      'swelling@left',
      'dressing@w1',
      'bleeding@w1',
      'note',
    ]);
  });

  it('two wounds on one foot: the foot is asked about once, each wound by itself', () => {
    const items = keys(
      planWith([
        ['w1', 'left'],
        ['w2', 'left'],
      ]),
    );
    expect(items.filter((k) => k.startsWith('pain'))).toEqual(['pain@left']);
    expect(items.filter((k) => k.startsWith('dressing'))).toEqual(['dressing@w1', 'dressing@w2']);
  });

  it('wounds on both feet: both feet are asked about, the person once', () => {
    const items = keys(
      planWith(
        [
          ['w1', 'right'],
          ['w2', 'left'],
        ],
        ['glucose', 'offloading'],
      ),
    );
    expect(items.filter((k) => k.startsWith('swelling'))).toEqual(['swelling@right', 'swelling@left']);
    expect(items.filter((k) => ['unwell', 'temperature', 'glucose', 'offloading', 'note'].includes(k))).toHaveLength(5);
    expect(new Set(items).size).toBe(items.length);
  });

  it('asks nothing of the open wound in the daily check, and only that at the look', () => {
    const items = keys(planWith([['w1', 'left']], ['glucose', 'offloading', 'warmth']));
    expect(items.filter((k) => OPEN_IDS.some((id) => k.startsWith(id)))).toEqual([]);
    expect(lookQuestions().map((q) => q.id)).toEqual([...OPEN_IDS]);
  });
});

describe('sorting the answers of a check', () => {
  const plan = planWith(
    [
      ['w1', 'right'],
      ['constructor', 'left'],
    ],
    ['offloading'],
  );

  it('puts each answer with the person, the foot or the wound it is about', () => {
    expect(
      sortAnswers(plan, {
        unwell: ['none'],
        offloading: 'always',
        'pain@right': 'more',
        'pain@left': 'usual',
        'swelling@left': 'new',
        'dressing@w1': 'loose',
        'bleeding@constructor': 'spots',
        note: 'x',
      }),
    ).toEqual({
      person: { unwell: ['none'], offloading: 'always', note: 'x' },
      feet: { right: { pain: 'more' }, left: { pain: 'usual', swelling: 'new' } },
      wounds: { w1: { dressing: 'loose' }, constructor: { bleeding: 'spots' } },
    });
  });

  it('leaves out what was not answered or not asked', () => {
    expect(sortAnswers(plan, {})).toEqual({ person: {}, feet: {}, wounds: {} });
    expect(
      sortAnswers(plan, { 'pain@left': undefined, glucose: { value: 100, unit: 'mg/dL' }, 'odour@w1': 'none', 'dressing@w9': 'loose' }),
    ).toEqual({
      person: {},
      feet: {},
      wounds: {},
    });
  });
});
