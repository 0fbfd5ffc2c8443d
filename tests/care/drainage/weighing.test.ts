import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type WeighedRate, weigh, weighingsOf } from '../../../app/care/drainage/weighing.ts';
import { sizesOf } from '../../../app/care/healing/sizes.ts';
import type { LogRecord, RecordOf } from '../../../app/care/log/records.ts';
import { timeline } from '../../../app/care/log/timeline.ts';
import { ellipseOn, traced } from '../healing/make-sizes.ts';
import { measurement, mustBeRecords, stamp, withdrawal } from '../log/make.ts';

type Weighing = RecordOf<'weighing'>;
const weighing = (id: string, at: string, more: Partial<Weighing> = {}): Weighing => ({
  ...stamp(id, at),
  kind: 'weighing',
  wound: 'w1',
  dryG: 10,
  usedG: 16,
  stepG: 1,
  hours: 48,
  ...more,
});
const rate = (...given: Parameters<typeof weigh>): WeighedRate => {
  const result = weigh(...given);
  if (result.kind !== 'rate') throw new Error(`no rate: ${result.kind}`);
  return result;
};
/** 4 cm², 20 × 25.46 mm. */
const FOUR_CM2 = ellipseOn(0, 400 / (Math.PI * 5), 20);

describe('a dressing weighed dry and used', () => {
  it('gives grams a day, with the range that the steps of the scale leave', () => {
    expect(rate({ dryG: 10, usedG: 16, stepG: 1, hours: 48 }, undefined).gPerDay).toEqual({ value: 3, low: 2.5, high: 3.5 });
    expect(rate({ dryG: 10.2, usedG: 11, stepG: 0.1, hours: 12 }, undefined).gPerDay.value).toBeCloseTo(1.6, 10);
  });

  it('gives grams per square centimetre a day, wider by what the edge of the wound leaves open', () => {
    const { gPerDay, gPerCm2Day } = rate({ dryG: 10, usedG: 16, stepG: 1, hours: 48 }, FOUR_CM2);
    expect(gPerCm2Day?.value).toBeCloseTo(0.75, 6);
    expect(gPerCm2Day?.size).toBe(FOUR_CM2);
    const relative = ({ low, high, value }: { low: number; high: number; value: number }) => (high - low) / value;
    expect(relative(gPerCm2Day ?? gPerDay)).toBeGreaterThan(relative(gPerDay));
    const [round] = traced([[0, 400]]);
    expect(rate({ dryG: 10, usedG: 16, stepG: 1, hours: 48 }, round).gPerCm2Day?.value).toBeCloseTo(0.75, 10);
  });

  it('a gain no larger than the scale’s step is no number, only less than one', () => {
    expect(weigh({ dryG: 10, usedG: 11, stepG: 1, hours: 24 }, FOUR_CM2)).toEqual({ kind: 'belowWhatTheScaleSees', lessThanGPerDay: 2 });
    expect(weigh({ dryG: 10, usedG: 10, stepG: 1, hours: 48 }, FOUR_CM2)).toEqual({ kind: 'belowWhatTheScaleSees', lessThanGPerDay: 0.5 });
    expect(weigh({ dryG: 10, usedG: 9, stepG: 1, hours: 24 }, FOUR_CM2)).toEqual({ kind: 'belowWhatTheScaleSees', lessThanGPerDay: 1 });
    // 12.3 − 12.1 is a hair more than 0.2 in binary.
    expect(weigh({ dryG: 12.1, usedG: 12.3, stepG: 0.2, hours: 24 }, undefined).kind).toBe('belowWhatTheScaleSees');
  });

  it('a used dressing clearly lighter than the dry one is no drainage but a mistake', () => {
    expect(weigh({ dryG: 16, usedG: 10, stepG: 1, hours: 24 }, undefined)).toEqual({ kind: 'lighterThanDry' });
  });

  it('less than an hour is no day', () => {
    expect(weigh({ dryG: 10, usedG: 16, stepG: 1, hours: 0.5 }, undefined)).toEqual({ kind: 'tooShort' });
    expect(weigh({ dryG: 10, usedG: 16, stepG: 1, hours: 1 }, undefined).kind).toBe('rate');
  });

  it('a wound no larger than its own doubtful edge is not divided by', () => {
    for (const size of [ellipseOn(0, 5, 1), ...traced([[0, 0]]), ...traced([[0, 0.7]])]) {
      expect(rate({ dryG: 10, usedG: 16, stepG: 1, hours: 48 }, size).gPerCm2Day).toBeUndefined();
    }
  });
});

describe('the weighings of a wound', () => {
  const all = (records: readonly LogRecord[], now = '2031-06-01T00:00:00Z') => {
    const entries = timeline(mustBeRecords(records));
    return weighingsOf(entries, 'w1', sizesOf(entries, { id: 'w1' }, Date.parse(now)), Date.parse(now));
  };

  it('rest on the size measured nearest in time, within two weeks', () => {
    const records = [
      measurement('m1', '2031-03-01T09:00', 20, 15),
      measurement('m2', '2031-03-12T09:00', 18, 14),
      weighing('g1', '2031-03-05T09:00'),
      weighing('g2', '2031-03-08T09:00'),
      weighing('g3', '2031-03-26T09:00'),
      weighing('g4', '2031-03-26T09:01'),
    ];
    const sizes = all(records).map(({ result }) => (result.kind === 'rate' ? result.gPerCm2Day?.size.id : 'none'));
    expect(sizes).toEqual(['m1', 'm2', 'm2', undefined]);
  });

  it('hold each once, as corrected, without what was withdrawn, of another wound, or dated ahead', () => {
    const records = [
      weighing('g1', '2031-03-05T09:00', { usedG: 160 }),
      { ...weighing('g1b', '2031-03-06T09:00', { change: 'c1' }), amends: 'g1' },
      weighing('g2', '2031-03-07T09:00'),
      withdrawal('v', 'g2', '2031-03-07T10:00'),
      weighing('g3', '2031-03-07T09:00', { wound: 'w2' }),
      weighing('g4', '2031-05-07T09:00'),
    ];
    expect(all(records, '2031-04-01T00:00:00Z')).toMatchObject([
      { id: 'g1', change: 'c1', day: '2031-03-05', hours: 48, gainG: 6, uncertaintyG: 1, result: { kind: 'rate' } },
    ]);
  });
});

describe('for all weighings', () => {
  const grams = fc.double({ min: 0, max: 500, noNaN: true });
  const step = fc.constantFrom(0.01, 0.1, 0.5, 1, 2, 5);
  const hours = fc.double({ min: 1, max: 200, noNaN: true });

  it('the true drainage lies within the stated range, and what is truly below one step is never told as a number', () => {
    fc.assert(
      fc.property(grams, fc.oneof(grams, fc.double({ min: 0, max: 5, noNaN: true })), step, hours, (dry, gain, stepG, h) => {
        const shown = (weight: number): number => Math.round(weight / stepG) * stepG;
        const result = weigh({ dryG: shown(dry), usedG: shown(dry + gain), stepG, hours: h }, undefined);
        const truth = (gain * 24) / h;
        if (result.kind === 'rate') {
          expect(gain).toBeGreaterThanOrEqual(stepG * (1 - 1e-6));
          expect(truth).toBeGreaterThanOrEqual(result.gPerDay.low - 1e-6);
          expect(truth).toBeLessThanOrEqual(result.gPerDay.high + 1e-6);
          expect(result.gPerDay.low).toBeGreaterThan(0);
        } else {
          expect(result.kind).toBe('belowWhatTheScaleSees');
          if (result.kind === 'belowWhatTheScaleSees') expect(truth).toBeLessThanOrEqual(result.lessThanGPerDay + 1e-6);
        }
      }),
      { numRuns: 2000 },
    );
  });

  it('a wound whose diameters are read a millimetre wrong still has its truth within the range', () => {
    const mm = fc.double({ min: 3, max: 80, noNaN: true });
    const off = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(mm, mm, off, off, (l, w, a, b) => {
        const per = rate({ dryG: 10, usedG: 40, stepG: 1, hours: 24 }, ellipseOn(0, l + a, w + b)).gPerCm2Day;
        const truth = 30 / ((l * w * Math.PI) / 400);
        expect(per && per.low <= truth && truth <= per.high).toBe(true);
      }),
    );
  });

  it('twice the time is half the rate, a finer scale a narrower range', () => {
    fc.assert(
      fc.property(fc.double({ min: 11, max: 300, noNaN: true }), hours, (gain, h) => {
        const w = { dryG: 5, usedG: 5 + gain, stepG: 5, hours: h };
        const once = rate(w, undefined).gPerDay;
        expect(rate({ ...w, hours: 2 * h }, undefined).gPerDay.value).toBeCloseTo(once.value / 2, 8);
        const fine = rate({ ...w, stepG: 1 }, undefined).gPerDay;
        expect(fine.high - fine.low).toBeLessThan(once.high - once.low);
      }),
    );
  });
});
