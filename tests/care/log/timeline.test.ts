import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readRecords } from '../../../app/care/log/records.ts';
import { alertStates, byTime, openAlerts, standing, timeline } from '../../../app/care/log/timeline.ts';
import { alert, check, logArb, mustBeRecords, note, outcome, planAccepted, stamp, withdrawal } from './make.ts';

const N9 = '2031-03-04T09:00';
const N10 = '2031-03-04T10:00';
const N11 = '2031-03-04T11:00';
const N12 = '2031-03-04T12:00';

describe('the log as it stands', () => {
  test('entries stand in the order they were made, whatever order they are read in', () => {
    const records = [note('c', N11), note('a', N9), note('b', N10)];
    expect(timeline(records).map((e) => e.first.id)).toEqual(['a', 'b', 'c']);
  });

  test('records of one instant stand in the order of their ids on every device', () => {
    expect(timeline([note('b'), note('a')]).map((e) => e.first.id)).toEqual(timeline([note('a'), note('b')]).map((e) => e.first.id));
  });

  test('a correction shows as the record itself, in its old place, with the old version kept', () => {
    const [entry, ...more] = timeline([note('a', N9, 'left foot'), note('b', N10, 'x'), note('a2', N12, 'right foot', { amends: 'a' })]);
    expect(more).toHaveLength(1);
    expect(entry?.first.id).toBe('a');
    expect(entry?.now).toMatchObject({ id: 'a2', text: 'right foot' });
    expect(entry?.versions.map((v) => v.id)).toEqual(['a', 'a2']);
  });

  test('of several corrections the latest counts', () => {
    const records = [note('a', N9), note('a3', N12, 'third', { amends: 'a' }), note('a2', N10, 'second', { amends: 'a' })];
    expect(timeline(records)[0]?.now).toMatchObject({ text: 'third' });
  });

  test('a correction of a correction corrects the first version too', () => {
    const records = [note('a', N9, '1'), note('a2', N10, '2', { amends: 'a' }), note('a3', N11, '3', { amends: 'a2' })];
    const entries = timeline(records);
    expect(entries).toHaveLength(1);
    expect(entries[0]?.now).toMatchObject({ text: '3' });
    expect(entries[0]?.versions.map((v) => v.id)).toEqual(['a', 'a2', 'a3']);
  });

  test('a withdrawn record stays, marked as withdrawn', () => {
    const [entry] = timeline([note('a', N9), withdrawal('v', 'a', N10)]);
    expect(entry?.voided?.id).toBe('v');
    expect(entry?.first.id).toBe('a');
  });

  test('of two withdrawals the first counts', () => {
    expect(timeline([withdrawal('v2', 'a', N11), note('a', N9), withdrawal('v1', 'a', N10)])[0]?.voided?.id).toBe('v1');
  });

  test('a correction made after a withdrawal does not bring the record back', () => {
    const [entry, ...more] = timeline([note('a', N9), withdrawal('v', 'a', N10), note('a2', N11, 'again', { amends: 'a' })]);
    expect(more).toEqual([]);
    expect(entry?.voided?.id).toBe('v');
    expect(entry?.now.id).toBe('a2');
  });

  test('a clock set back puts the correction before its original, and it still corrects it', () => {
    const [entry, ...more] = timeline([note('a', N12, 'first'), note('a2', N9, 'corrected', { amends: 'a' })]);
    expect(more).toEqual([]);
    expect(entry?.first.id).toBe('a');
    expect(entry?.now).toMatchObject({ text: 'corrected' });
  });

  test('a correction whose original is missing stands for itself, nothing is hidden', () => {
    const entries = timeline([note('a2', N10, 'corrected', { amends: 'a' }), note('b', N11)]);
    expect(entries.map((e) => e.now.id)).toEqual(['a2', 'b']);
  });

  test('a correction that was withdrawn no longer counts, but stays to be seen', () => {
    const log = [note('a', N9, 'first'), note('a2', N10, 'second', { amends: 'a' }), note('a3', N11, 'third', { amends: 'a' })];
    const [third] = timeline([...log, withdrawal('v', 'a2', N12)]);
    expect(third?.now).toMatchObject({ text: 'third' });
    const [second] = timeline([...log, withdrawal('v', 'a3', N12)]);
    expect(second).toMatchObject({ now: { text: 'second' }, voided: undefined });
    expect(second?.versions.map((v) => v.id)).toEqual(['a', 'a2', 'a3']);
    const [first] = timeline([...log, withdrawal('v', 'a3', N12), withdrawal('w', 'a2', N12)]);
    expect(first?.now).toMatchObject({ text: 'first' });
  });

  test('a correction of another kind is no correction: both stand', () => {
    const entries = timeline([check('a', N9), note('n', N10, 'x', { amends: 'a' })]);
    expect(entries.map((e) => [e.first.id, e.now.id])).toEqual([
      ['a', 'a'],
      ['n', 'n'],
    ]);
  });

  test('records that correct each other in a ring are all shown, and a withdrawal hits the one it names', () => {
    const ring = [note('a', N9, 'a', { amends: 'b' }), note('b', N10, 'b', { amends: 'a' }), note('s', N11, 's', { amends: 's' })];
    const shown = timeline(ring).flatMap((e) => e.versions.map((v) => v.id));
    expect(shown.sort()).toEqual(['a', 'b', 's']);
    const [entry] = timeline([...ring, withdrawal('v', 's', N12)]).filter((e) => e.voided);
    expect(entry?.first.id).toBe('s');
  });

  test('every record shows exactly once, as a version of some entry or as a withdrawal', () => {
    fc.assert(
      fc.property(logArb, (log) => {
        const shown = timeline(log).flatMap((e) => e.versions.map((v) => v.id));
        expect(shown.sort()).toEqual(
          log
            .filter((r) => r.kind !== 'void')
            .map((r) => r.id)
            .sort(),
        );
      }),
      { numRuns: 1_000 },
    );
  });

  test('the order in which records are read never matters', () => {
    fc.assert(
      fc.property(
        logArb.chain((log) => fc.tuple(fc.constant(log), fc.shuffledSubarray(log, { minLength: log.length }))),
        ([log, shuffled]) => {
          expect(timeline(shuffled)).toEqual(timeline(log));
        },
      ),
    );
  });

  test('an entry is of one kind, its first version comes first, and entries stand in time order', () => {
    fc.assert(
      fc.property(logArb, (log) => {
        const entries = timeline(log);
        for (const e of entries) {
          expect(e.versions[0]).toBe(e.first);
          const withdrawn = new Set(log.flatMap((r) => (r.kind === 'void' ? [r.target] : [])));
          expect(e.now).toBe(e.versions.slice(1).findLast((v) => !withdrawn.has(v.id)) ?? e.first);
          expect(new Set(e.versions.map((v) => v.kind)).size).toBe(1);
        }
        expect(entries.map((e) => e.first)).toEqual(entries.map((e) => e.first).sort(byTime));
      }),
    );
  });
});

describe('standing records', () => {
  test('are those of one kind, corrected, without the withdrawn', () => {
    const entries = timeline([note('a', N9), note('a2', N10, 'new', { amends: 'a' }), note('b'), withdrawal('v', 'b', N10), check('c')]);
    expect(standing(entries, 'note').map((e) => e.now.text)).toEqual(['new']);
    expect(standing(entries, 'check').map((e) => e.first.id)).toEqual(['c']);
  });
});

describe('alerts and what came of them', () => {
  const a = alert('a1', N9);
  const statesOf = (...records: Parameters<typeof timeline>[0]) => alertStates(timeline(mustBeRecords(records)));

  test('an alert without an outcome is open', () => {
    expect(statesOf(a)).toEqual([{ alert: a, outcomes: [], closed: false }]);
  });

  test('a clinic that was reached closes it, and so does the hospital', () => {
    expect(statesOf(a, outcome('o', ['a1'], 'reached', N10))[0]?.closed).toBe(true);
    expect(statesOf(a, outcome('o', ['a1'], 'wentToHospital', N10))[0]?.closed).toBe(true);
  });

  test('a call that nobody answered keeps it open', () => {
    expect(statesOf(a, outcome('o', ['a1'], 'couldNotReach', N10))[0]?.closed).toBe(false);
  });

  test('a failed call after a good one does not open it again', () => {
    const states = statesOf(a, outcome('o1', ['a1'], 'reached', N10), outcome('o2', ['a1'], 'couldNotReach', N11));
    expect(states[0]?.closed).toBe(true);
  });

  test('one outcome can close several alerts, and closes no other', () => {
    const states = statesOf(a, alert('a2', N10), alert('a3', N10), outcome('o', ['a1', 'a2'], 'reached', N11));
    expect(states.map((s) => [s.alert.id, s.closed])).toEqual([
      ['a1', true],
      ['a2', true],
      ['a3', false],
    ]);
  });

  test('an outcome withdrawn or corrected to "nobody answered" opens it again', () => {
    const reached = outcome('o', ['a1'], 'reached', N10);
    expect(statesOf(a, reached, withdrawal('v', 'o', N11))[0]?.closed).toBe(false);
    expect(statesOf(a, reached, outcome('o2', ['a1'], 'couldNotReach', N11, { amends: 'o' }))[0]?.closed).toBe(false);
  });

  test('a record that claims to correct an alert cannot make it milder', () => {
    const forged = alert('a2', N10, { amends: 'a1', level: 'callToday', told: 'callToday' });
    const grave = alert('a1', N9, { level: 'emergency', told: 'emergency' });
    expect(statesOf(grave, forged)[0]?.alert).toEqual(grave);
    expect(openAlerts(timeline([grave, forged])).map((s) => s.alert.id)).toEqual(['a1']);
  });

  test('an alert that was withdrawn is gone from the list', () => {
    expect(statesOf(a, withdrawal('v', 'a1', N10))).toEqual([]);
  });

  test('open alerts stand gravest first, then newest, the closed ones not at all', () => {
    const entries = timeline([
      alert('today-old', N9),
      alert('today-new', N11),
      alert('now', N9, { level: 'callNow', told: 'callNow' }),
      alert('sos', N9, { level: 'emergency', told: 'emergency' }),
      alert('told-now', N10, { level: 'callToday', told: 'callNow' }),
      alert('closed', N12, { level: 'emergency', told: 'emergency' }),
      outcome('o', ['closed'], 'wentToHospital', N12),
    ]);
    expect(openAlerts(entries).map((s) => s.alert.id)).toEqual(['sos', 'told-now', 'now', 'today-new', 'today-old']);
  });
});

describe('what cannot be read', () => {
  test('is kept whole and unchanged, beside what can be', () => {
    const odd = [null, 7, 'text', [], { kind: 'check' }, { ...note('n'), kind: 'dance' }, { ...note('n'), extra: 1 }];
    const good = mustBeRecords([note('a'), planAccepted('p')]);
    const reading = readRecords([odd[0], good[0], ...odd.slice(1), good[1]]);
    expect(reading.records).toEqual(good);
    expect(reading.unreadable).toHaveLength(odd.length);
    for (const [i, value] of reading.unreadable.entries()) expect(value).toBe(odd[i]);
  });

  test.each([
    ['a day that does not exist', { day: '2031-02-30' }],
    ['a time without a zone', { at: '2031-03-04T09:00:00' }],
    ['a time that does not exist', { at: '2031-03-04T25:00:00Z' }],
    ['an unknown zone', { zone: 'Mars/Olympus' }],
    ['an id with a slash', { id: 'a/b' }],
    ['an empty id', { id: '' }],
    ['an unknown writer', { by: { who: 'robot' } }],
    ['a note of 2,001 letters', { text: 'x'.repeat(2001) }],
  ])('%s makes a record unreadable, not wrong', (_name, part) => {
    const value = { ...note('a'), ...part };
    expect(readRecords([value])).toEqual({ records: [], unreadable: [value] });
  });

  test('answers from the wrong part of a check, or to unknown questions, are not read', () => {
    const wrong = [
      { ...check('a'), person: { pain: 'more' } },
      { ...check('a'), feet: { left: { dressing: 'loose' } } },
      { ...check('a'), wounds: { w1: { odour: 'usual' } } },
      { ...check('a'), person: { mood: 'low' } },
      { ...check('a'), person: { unwell: ['none', 'faint'] } },
      { ...check('a'), person: { temperature: { value: 368, unit: 'Cel' } } },
    ];
    expect(readRecords(wrong).records).toEqual([]);
  });

  test('nothing that is thrown at it makes it throw or lose a value', () => {
    fc.assert(
      fc.property(fc.array(fc.anything()), (values) => {
        const { records, unreadable } = readRecords(values);
        expect(records.length + unreadable.length).toBe(values.length);
      }),
    );
  });

  test('a stamp is all that every kind has', () => {
    expect(Object.keys(stamp('a')).sort()).toEqual(['at', 'by', 'day', 'device', 'id', 'plan', 'zone']);
  });
});
