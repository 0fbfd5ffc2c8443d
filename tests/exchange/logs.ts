import { STEPS_BEFORE_RECIPE } from '../../app/care/change/steps.ts';
import type { Answers } from '../../app/care/check/answers.ts';
import type { Band } from '../../app/care/check/questions.ts';
import { type LogRecord, readRecords } from '../../app/care/log/records.ts';
import { likelyRecipe } from '../../app/care/plan/likely-recipe.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { addDays, instantOf, type LocalDay } from '../../app/care/schedule/day.ts';
import type { BookToSend } from '../../app/exchange/book-content.ts';
import { demoPlan, woundOf } from '../care/plan/plans.ts';

/** Chance that is the same at every run. */
export function dice(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
}

export const FIRST_DAY = '2031-03-04' as LocalDay;
export const PHONE = '5d0c1d9e-58a8-4f0b-9e0e-2f6a1be0c9d1';

/** Ids as a phone makes them, 122 bits of chance in each: they are what packs worst. */
export function idsOf(chance: () => number): () => string {
  const hex = (count: number): string => Array.from({ length: count }, () => Math.floor(chance() * 16).toString(16)).join('');
  return () => `${hex(8)}-${hex(4)}-4${hex(3)}-a${hex(3)}-${hex(12)}`;
}

/**
 * The log of an invented person with the demo plan: a check a day with a
 * measured temperature, a change every other day with all it used, a
 * measurement a week, counts, deliveries and notes, and now and then an alert
 * with its outcome.
 */
export function lived(days: number, { plan = demoPlan(), seed = 7, device = PHONE, from = FIRST_DAY } = {}): LogRecord[] {
  const chance = dice(seed);
  const newId = idsOf(chance);
  const pick = <T>(...list: readonly T[]): T => list[Math.floor(chance() * list.length)] as T;
  const wound = woundOf(plan);
  const calm = () => ({ level: 'carryOn' as const, told: 'carryOn' as const, fired: [], quieted: [] });
  const stamp = (day: LocalDay, hour: number, id = newId()) => ({
    id,
    at: new Date(instantOf(day, hour * 60 + Math.floor(chance() * 60), plan.clinic.zone) + Math.floor(chance() * 60_000)).toISOString(),
    day,
    zone: plan.clinic.zone,
    by: chance() < 0.2 ? { who: 'caregiver' as const, name: 'Ilse' } : { who: 'patient' as const },
    device,
    plan: { id: plan.id, revision: plan.revision },
  });
  const records: LogRecord[] = [];
  for (let i = 0; i < days; i++) {
    const day = addDays(from, i);
    const sore = i % 17 === 16;
    const check = stamp(day, 9);
    const fired = [{ rule: 'one-sign' as const, level: 'callToday' as const, findings: ['pain:more'] }];
    const judgement = sore ? { level: 'callToday' as const, told: 'callToday' as const, fired, quieted: [] } : calm();
    records.push({
      ...check,
      kind: 'check',
      person: {
        unwell: ['none'],
        temperature: { value: Number((36.2 + chance()).toFixed(1)), unit: 'Cel', site: 'mouth' },
        offloading: pick('always', 'always', 'mostly'),
      },
      feet: { left: { footColour: 'usual', pain: sore ? 'more' : 'usual', warmth: 'same', swelling: 'usual' } },
      wounds: { w1: { dressing: pick('dryInPlace', 'dryInPlace', 'loose'), bleeding: 'none' } },
      judgement,
    });
    if (sore) {
      const id = `${check.id}-callToday`;
      records.push({ ...stamp(day, 9, id), kind: 'alert', level: 'callToday', told: 'callToday', from: check.id, fired });
      records.push({ ...stamp(day, 10), kind: 'outcome', alerts: [id], what: 'reached', said: 'Keep the boot on, call again tomorrow.' });
    }
    if (i % 2 === 0) {
      const band = pick<Band>('light', 'light', 'moderate');
      const recipe = likelyRecipe(wound, band)?.recipe;
      const change = stamp(day, 10);
      const answers = {
        drainageAmount: band,
        drainageColour: pick('clear', 'pink'),
        odour: 'none',
        redness: pick('none', 'rim'),
        woundBed: pick(['red'], ['red', 'yellow']),
        edge: 'usual',
      } as Answers;
      const steps = [...STEPS_BEFORE_RECIPE, ...(recipe?.steps ?? []).map((s) => s.step)].map((step) => ({ step, state: 'done' as const }));
      const startedAt = new Date(Date.parse(change.at) - 1_500_000).toISOString();
      records.push({
        ...change,
        kind: 'change',
        wound: 'w1',
        check: check.id,
        startedAt,
        answers,
        band,
        path: 'recipe',
        steps,
        judgement: calm(),
      });
      for (const [n, use] of (recipe?.uses ?? []).entries()) {
        const used = { ...change, id: `${change.id}-${n}` };
        records.push({ ...used, kind: 'stock', item: use.item, movement: 'used', amount: use.amount, change: change.id });
      }
    }
    if (i % 7 === 1)
      records.push({ ...stamp(day, 11), kind: 'measurement', wound: 'w1', method: 'ruler', lengthMm: 22 - i / 10, widthMm: 15 });
    if (i % 7 === 3) records.push({ ...stamp(day, 12), kind: 'stock', item: 'saline', movement: 'counted', amount: 40 - (i % 30) });
    if (i % 10 === 4)
      records.push({ ...stamp(day, 18), kind: 'note', text: pick('Walked to the shop, slowly.', 'Slept badly.', 'The boot rubs.') });
  }
  return [...readRecords(records).records];
}

/** A book with such a log. */
export function bookOf(days: number, more: Partial<BookToSend> & { plan?: Plan } = {}): BookToSend {
  const plan = more.plan ?? demoPlan();
  return {
    plan,
    earlierPlans: [],
    acceptedAt: '2031-03-04T15:00:00.000Z',
    records: lived(days, { plan }),
    made: '2031-06-04T15:00:00.000Z',
    device: PHONE,
    ...more,
  };
}

/** The smallest picture that passes for a JPEG, told apart by a number. */
export const picture = (n: number, size = 64): Blob => {
  const bytes = new Uint8Array(size).map((_, i) => (n * 31 + i * 7) % 256);
  bytes.set([0xff, 0xd8, 0xff, 0xe0]);
  return new Blob([bytes], { type: 'image/jpeg' });
};
