import { describe, expect, test } from 'vitest';
import type { LocalDay } from '../../../app/care/schedule/day.ts';
import { visitSummary } from '../../../app/care/visit/summary.ts';
import { exampleInput } from './example.ts';

/**
 * The example of `example.ts`, worked out on paper. Days are days of March 2031.
 *
 * day    3  4  5  6  7  8  9 10 11 12 13 14 15 16 17 18
 * check  w  w  w  –  w  c  w  w  w  x  –  w  w  w  w  ·    w whole, c cut short, x withdrawn, · today, not yet
 * change    o  e     l     o     o  s        l     x       o on time, e early, l late, s broken off, x withdrawn
 */
const sum = visitSummary(exampleInput());
const march = (...days: number[]) => days.map((d) => `2031-03-${String(d).padStart(2, '0')}`);
const [w1] = sum.wounds;
if (!w1) throw new Error('the example has one wound');

describe('the hand-worked example', () => {
  test('it runs from the day of the last visit to today: 3 to 18 March are 16 days', () => {
    expect(sum.period).toEqual({
      from: '2031-03-03',
      to: '2031-03-18',
      days: 16,
      since: 'visit',
      lastVisit: '2031-03-03',
      asked: undefined,
      endsToday: true,
    });
    expect([sum.callMe, sum.clinic]).toEqual(['Nela', 'Alder Street Foot Clinic']);
  });

  test('two plan versions were in force: the one accepted before, and the one of the 10th', () => {
    expect(sum.plans.map((p) => [p.revision, p.accepted, p.issued])).toEqual([
      [1, '2031-03-02', '2031-03-02'],
      [2, '2031-03-10', '2031-03-10'],
    ]);
  });

  test('questions: the one before the visit was asked there, one was corrected, one withdrawn, one note is for nobody', () => {
    expect(sum.questions.map((q) => [q.day, q.text])).toEqual([
      ['2031-03-06', 'May I shower?'],
      ['2031-03-12', 'Is the boot too tight?'],
    ]);
  });

  test('alerts: three of the period and one carried over; the one of the withdrawn check is gone', () => {
    expect(sum.alerts.map((a) => [a.day, a.told, a.open, a.carriedOver, a.answeredAfter])).toEqual([
      // Nobody ever wrote down what came of it.
      ['2031-03-02', 'callToday', true, true, undefined],
      // 09:05 to 10:35 are 90 minutes; the call at 09:20 reached nobody.
      ['2031-03-05', 'callToday', false, false, 90],
      // 09:02 to 10:02.
      ['2031-03-08', 'callNow', false, false, 60],
      ['2031-03-09', 'callNow', true, false, undefined],
    ]);
    expect(sum.alerts[1]?.answers.map((o) => [o.what, o.said, o.minutesAfter])).toEqual([
      ['couldNotReach', undefined, 15],
      ['reached', 'Come on Friday.', 90],
    ]);
    // 18:05 to 18:30.
    expect(sum.alerts[3]?.answers.map((o) => [o.what, o.minutesAfter])).toEqual([['couldNotReach', 25]]);
  });

  test('checks: today does not count yet, so 15 days: 11 done, 1 cut short, 3 without', () => {
    expect(sum.checks).toEqual({ days: 15, done: 11, cutShort: march(8), none: march(6, 12, 13), todayOpen: true });
  });

  test('changes: 6 done, of them 3 on time, 1 early, 2 late; 2 missed; 1 broken off; one is overdue', () => {
    // Every 48 hours after none or light, 24 after moderate, counted in days.
    // 2 light → due 4: on time. 4 none → due 6: done on 5, marked through: early. 5 moderate → due 6: done on 7, a
    // day late, and the 6th passed without one. 7 light → due 9: on time. 9 heavy, no recipe, so as light → due 11:
    // on time. 11 moderate → due 12: broken off that day, light was seen, so due 13: done on 15, two days late, and
    // the 13th passed without one. 15 none → due 17: the one of the 17th was withdrawn; the 19th is still to come.
    expect(w1.changes).toEqual({
      done: 6,
      // The plan of the 9th had no recipe for heavy: covered, then the clinic was asked.
      coveredOnly: march(9),
      onTime: 3,
      early: [{ day: '2031-03-05', why: 'markedThrough' }],
      late: [
        { day: '2031-03-07', daysLate: 1 },
        { day: '2031-03-15', daysLate: 2 },
      ],
      first: 0,
      unscheduled: 0,
      missed: march(6, 13),
      stopped: march(12),
      overdueSince: '2031-03-17',
    });
  });

  test('drainage: 7 looks; the first plan expects light to moderate, the second none to light', () => {
    expect(w1.drainage.rows.map((r) => [r.day, r.amount, r.expected, r.place, r.dressed])).toEqual([
      ['2031-03-04', 'none', ['light', 'moderate'], 'below', true],
      ['2031-03-05', 'moderate', ['light', 'moderate'], 'within', true],
      ['2031-03-07', 'light', ['light', 'moderate'], 'within', true],
      ['2031-03-09', 'heavy', ['light', 'moderate'], 'above', true],
      ['2031-03-11', 'moderate', ['none', 'light'], 'above', true],
      ['2031-03-12', 'light', ['none', 'light'], 'within', false],
      ['2031-03-15', 'none', ['none', 'light'], 'within', true],
    ]);
    expect(w1.drainage.counts).toEqual({ none: 2, light: 2, moderate: 2, heavy: 1, unsure: 0, notSeen: 0 });
    expect([w1.drainage.above, w1.drainage.below, w1.drainage.expectedNow]).toEqual([2, 1, ['none', 'light']]);
  });

  test('the dressing: too wet three times in a row until the 9th; after that two looks say nothing, and nothing is in a row', () => {
    // 5: fluid came through before the change was due. 7: a white and soggy edge. 9: more than the plan has a recipe for.
    const untilThe9th = visitSummary({ ...exampleInput(), from: '2031-03-03' as LocalDay, to: '2031-03-09' as LocalDay });
    const fit = untilThe9th.wounds[0]?.drainage.fit;
    expect([fit?.says, fit?.changes.map((c) => c.found.day)]).toEqual(['tooWet', march(5, 7, 9)]);
    // 11 and 12: the edge was not looked at. 15: soggy again, but alone.
    expect(w1.drainage.fit).toBeUndefined();
  });

  test('size: 22 × 16 at first, 18 × 12 now; 136 of 352 are gone, which is 38.6 %; no milestone is due', () => {
    expect(w1.size.inPeriod.map((s) => [s.day, s.lengthMm, s.widthMm])).toEqual([
      // 200 was a slip for 20.
      ['2031-03-09', 20, 15],
      ['2031-03-16', 18, 12],
    ]);
    expect([w1.size.first?.day, w1.size.last?.day]).toEqual(['2031-03-02', '2031-03-16']);
    // An ellipse's area is length × width × 0.785398: 352 × 0.785398 = 276.46, 216 × 0.785398 = 169.646 [EV-HEA-14].
    expect(w1.size.first?.areaMm2).toBeCloseTo(276.46, 2);
    expect(w1.size.last?.areaMm2).toBeCloseTo(169.646, 3);
    expect(w1.size.sinceFirst?.reductionPct).toBeCloseTo((100 * 136) / 352, 10);
    expect(w1.size.sinceFirst?.reductionPct?.toFixed(1)).toBe('38.6');
    // The clinic measured first, the person with a ruler last.
    expect(w1.size.sinceFirst?.mixed).toBe(true);
    // 26 to 35 days after 2 March: 28 March to 6 April; 54 to 63: 25 April to 4 May.
    expect(w1.size.milestones.map((m) => [m.weeks, m.share, m.dueBetween?.from, m.dueBetween?.to, m.state])).toEqual([
      [4, 0.5, '2031-03-28', '2031-04-06', 'notYetDue'],
      [8, 0.9, '2031-04-25', '2031-05-04', 'notYetDue'],
    ]);
  });

  test('photos: two, of the 4th and the 10th; the third was withdrawn', () => {
    expect([w1.photos.count, w1.photos.first?.photo, w1.photos.latest?.photo]).toEqual([2, 'bytes-photo-1', 'bytes-photo-2']);
  });

  test('temperature: 13 readings on 11 days; highest 38.4 on the 8th; fever on the 8th and, in the armpit, on the 14th', () => {
    // One each on 3, 4, 5, 7, 8, 10, 14, 15 and 17, two on 9 (two checks) and 11 (read again): 9 + 2 + 2. On the 16th
    // there was no thermometer; 6, 12 and 13 have no check. 40.1 was corrected, 39.5 withdrawn, 41 is of a wrong clock.
    expect(sum.temperature).toEqual({
      readings: 13,
      measuredDays: 11,
      notMeasured: 4,
      highest: { value: 38.4, unit: 'Cel', site: 'mouth', day: '2031-03-08' },
      // 38.4 ≥ 38.0; in the armpit 37.5 ≥ 38.0 − 0.5 [EV-FEV-01]. 99.5 °F are 37.5 °C: neither.
      feverDays: march(8, 14),
      // 37.8 ≤ 37.9 < 38.0.
      raisedDays: march(7),
      felt: [],
      feltUnsure: [],
      limitC: 38,
    });
  });

  test('the left foot: pain worse on the 5th and very bad on the 9th; warmer on the 7th by 2.9 °C', () => {
    expect(sum.feet.map((f) => f.side)).toEqual(['left']);
    // 15 days: usual on 9, more on 1, severe on 1 (the graver of two checks), no answer on 6, 8, 12 and 13.
    expect(sum.feet[0]?.pain).toEqual({
      answers: [
        { code: 'usual', days: march(3, 4, 7, 10, 11, 14, 15, 16, 17) },
        { code: 'more', days: march(5) },
        { code: 'severe', days: march(9) },
      ],
      noAnswer: 4,
    });
    expect(sum.feet[0]?.warmth).toEqual({
      // The 15th was measured only, so the hand has no answer that day either.
      felt: {
        answers: [
          { code: 'same', days: march(3, 4, 5, 9, 10, 11, 14, 16, 17) },
          { code: 'warmer', days: march(7) },
        ],
        noAnswer: 5,
      },
      asked: true,
      measuredDays: 2,
      // 33.1 − 30.2 = 2.9. The other pair: 88.0 − 85.1 = 2.9 °F, which are 1.61 °C.
      highest: { site: 'heel', differenceC: 2.9, unit: 'Cel', day: '2031-03-07' },
      overDays: march(7),
      limitC: 2.2,
    });
  });

  test('off-loading: always on 8 days, mostly on 1, hardly on 2, no answer on 4', () => {
    expect(sum.offloading).toEqual({
      asked: true,
      answers: [
        { code: 'always', days: march(3, 4, 5, 7, 9, 14, 15, 16) },
        { code: 'mostly', days: march(17) },
        { code: 'hardly', days: march(10, 11) },
      ],
      noAnswer: 4,
    });
  });

  test('glucose: three readings; 17.2 mmol/L are 310 mg/dL, above 300; 65 is below 70', () => {
    // 17.2 × 18.016 = 309.9.
    expect(sum.glucose).toEqual({
      asked: true,
      readings: 3,
      measuredDays: 3,
      notMeasured: 12,
      lowest: { value: 65, unit: 'mg/dL', day: '2031-03-14' },
      highest: { value: 17.2, unit: 'mmol/L', day: '2031-03-07' },
      highDays: march(7),
      lowDays: march(14),
      limitMgdl: 300,
    });
  });

  test('to mention: each rule once, with its days; that of the withdrawn check is not among them', () => {
    expect(sum.mention.map((m) => [m.rule.rule, m.days])).toEqual([
      ['warm-once', march(7)],
      ['soggy-edge', march(7, 15)],
      ['offloading-off', march(11)],
    ]);
  });

  test('what else was seen, in the order of the questions; the usual smell is known to the clinic', () => {
    expect(sum.seen).toEqual([
      { finding: 'dressing:markedThrough', wound: 'w1', days: march(5), known: false },
      { finding: 'odour:usual', wound: 'w1', days: march(4, 7), known: true },
      { finding: 'redness:rim', wound: 'w1', days: march(9), known: false },
      { finding: 'woundBed:yellow', wound: 'w1', days: march(4), known: false },
      { finding: 'edge:whiteSoggy', wound: 'w1', days: march(7, 15), known: false },
    ]);
  });

  test('supplies: 5 foams used, 1 thrown away, 10 came, 13 were counted at last', () => {
    const line = (item: string) => sum.supplies.find((s) => s.item === item);
    // 10 + 10 − 5 − 1 = 14 by the book; the count of the 16th found 13.
    expect(line('foam')).toMatchObject({ used: 5, wasted: 1, received: 10, left: 13, expired: 0, lackingNext: false });
    // 13 last for the changes of 18, 20, … 30 March, 1, … 11 April; the one of 13 April lacks one. Early changes can
    // only bring that forward.
    expect(line('foam')?.runsOut?.localeCompare('2031-04-13')).toBeLessThanOrEqual(0);
    expect(line('foam')?.earliest?.localeCompare(line('foam')?.runsOut ?? '')).toBeLessThanOrEqual(0);
    // After none the recipe takes a tube of hydrogel, and there is none for the change that is due now.
    expect(line('hydrogel')).toMatchObject({ used: 0, left: 0, lackingNext: true, runsOut: '2031-03-18' });
    // Nobody ever counted the saline: that is not zero.
    expect(line('saline')).toMatchObject({ used: 0, left: undefined, runsOut: undefined, lackingNext: false });
    expect(sum.supplies).toHaveLength(8);
  });

  test('gaps: one entry is dated ahead of the clock and in no figure', () => {
    expect(sum.gaps).toEqual({ monthsNotLoaded: [], unreadable: 0, ahead: 1 });
  });
});
