import { inflateRawSync } from 'node:zlib';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import type { LogRecord } from '../../app/care/log/records.ts';
import { timeline } from '../../app/care/log/timeline.ts';
import { type Cell, type Column, csvText } from '../../app/exchange/csv.ts';
import { CSV_TABLES, csvFiles } from '../../app/exchange/csv-tables.ts';
import type { Period } from '../../app/exchange/period.ts';
import { zipTexts } from '../../app/exchange/zip.ts';
import { anyLogArb, firstPlan, fullLog, secondPlan, wordsArb } from '../exchange/full-log.ts';

/** The tables against an independent reader of CSV (npm: csv-parse), which follows RFC 4180. */

const read = (text: string): string[][] => parse(text, { bom: true, relax_column_count: false, record_delimiter: '\r\n' });
const rowsOf = (text: string): Record<string, string>[] => parse(text, { bom: true, columns: true, record_delimiter: '\r\n' });

/** The way back that the documentation gives: apostrophes and then the beginning of a formula lose one apostrophe. */
const wayBack = (cell: string): string => (/^'+(?:\s*[=+\-@＝＋－＠]|[\t\r\n])/u.test(cell) ? cell.slice(1) : cell);

const filesOf = (records: readonly LogRecord[], period: Period = {}): Map<string, string> =>
  new Map(csvFiles({ plans: [secondPlan(), firstPlan()], entries: timeline(records), period }).map((f) => [f.name, f.text]));
const tableOf = (file: string, records: readonly LogRecord[] = fullLog()): Record<string, string>[] =>
  rowsOf(filesOf(records).get(file) ?? '');

const TEXTS: Column<readonly Cell[]>[] = [0, 1].map((i) => ({ name: `t${i}`, kind: 'text', about: '', of: (row) => row[i] }));

describe('writing a cell and reading it with another program', () => {
  it('gives back any text, with quotes, line ends, emoji and beginnings of formulas', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(wordsArb, wordsArb), { minLength: 1, maxLength: 5 }), (rows) => {
        const [names, ...back] = read(csvText(TEXTS, rows));
        expect(names).toEqual(['t0', 't1']);
        expect(back.map((row) => row.map(wayBack))).toEqual(rows);
      }),
    );
  });

  it.each(['=1+1', '+1', '-1 day', '@A1', '\t=1', '\r=1', '\n=1', ' =1', '＝1+1', '＠A1', "'=1", "''-2", '=HYPERLINK("http://x";"y")'])(
    'leaves no cell that a spreadsheet takes for a formula: %j',
    (text) => {
      // OWASP, "CSV injection": = + - @, tab, carriage return, line feed and the full-width forms at the beginning of a cell.
      const [, [cell = ''] = []] = read(csvText(TEXTS, [[text]]));
      expect(cell).not.toMatch(/^\s*[=+\-@＝＋－＠]|^[\t\r\n]/u);
      expect(wayBack(cell)).toBe(text);
    },
  );

  it('leaves other texts alone, apostrophes among them', () => {
    for (const text of ["'tis", "''", 'a=b', '1-2', 'x@y.example', '2031-03-04']) expect(read(csvText(TEXTS, [[text]]))[1]?.[0]).toBe(text);
  });

  it('keeps a text in one cell for readers that split at a semicolon or a tab', () => {
    const text = csvText(TEXTS.slice(0, 1), [['a;=1+1\tb']]);
    for (const delimiter of [';', '\t']) expect(parse(text, { bom: true, delimiter, record_delimiter: '\r\n' })[1]).toEqual(['a;=1+1\tb']);
  });

  it('writes numbers as numbers, negative ones too, and nothing where there is none', () => {
    const numbers: Column<Cell>[] = [{ name: 'n', kind: 'number', about: '', of: (n) => n }];
    expect(csvText(numbers, [-1.5, 0, 1e-7, undefined, Number.NaN])).toBe('\ufeff"n"\r\n-1.5\r\n0\r\n1e-7\r\n\r\n\r\n');
    expect(Number('1e-7')).toBe(0.0000001);
  });

  it('begins with the byte order mark in UTF-8 and ends every line with CRLF', () => {
    const bytes = new TextEncoder().encode(csvText(TEXTS, [['é', 'ñ']]));
    expect([...bytes.slice(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(new TextDecoder().decode(bytes).split('\r\n')).toHaveLength(3);
  });
});

const INERT = /^(?!\s*[=+\-@＝＋－＠]|[\t\r\n])/u;
const SHAPES: Record<Column<unknown>['kind'], RegExp> = {
  number: /^(-?\d+(\.\d+)?(e[+-]?\d+)?)?$/,
  day: /^(\d{4}-\d\d-\d\d)?$/,
  time: /^(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}[+-]\d\d:\d\d)?$/,
  'yes or no': /^(yes|no)$/,
  code: INERT,
  id: INERT,
  text: INERT,
};

describe('the tables of a log that holds every kind of record', () => {
  it('there is one for each kind, and one that describes every column of all of them', () => {
    const files = filesOf(fullLog());
    expect([...files.keys()]).toEqual([...CSV_TABLES.map((t) => t.file), 'columns.csv']);
    const described = rowsOf(files.get('columns.csv') ?? '');
    for (const [name, text] of files) {
      if (name === 'columns.csv') continue;
      const [names = []] = read(text);
      expect(described.filter((row) => row.file === name).map((row) => row.column)).toEqual(names);
      expect(new Set(names).size).toBe(names.length);
    }
    for (const row of described) expect(row.about).toMatch(/\.$/);
  });

  it('every cell is of the kind that its column says, and no text begins like a formula, whatever the log', () => {
    const cells = (records: readonly LogRecord[]) =>
      [...filesOf(records)].flatMap(([name, text]) => {
        const columns = CSV_TABLES.find((t) => t.file === name)?.columns ?? [];
        return rowsOf(text).flatMap((row) => columns.map((c) => ({ kind: c.kind, cell: row[c.name] ?? 'missing' })));
      });
    fc.assert(
      fc.property(anyLogArb, (records) => {
        for (const { kind, cell } of cells(records)) expect(cell, kind).toMatch(SHAPES[kind]);
      }),
      { numRuns: 60 },
    );
  });

  it('a check has a row for each wound, with what concerns the person and the foot on each', () => {
    const rows = tableOf('checks.csv').filter((row) => row.record === 'c2');
    expect(rows.map((r) => [r.wound, r.foot, r.pain, r.dressing, r.glucose_mg_dl, r.swelling])).toEqual([
      ['w1', 'left', 'more', 'leaking', '241', 'new'],
      ['w2', 'right', 'unsure', 'dryInPlace', '241', 'usual'],
    ]);
    const [row] = rows;
    expect(row).toMatchObject({
      day: '2031-03-06',
      time: '2031-03-06T09:00:00.000-06:00',
      zone: 'America/Chicago',
      by: 'caregiver',
      by_name: 'Ana, "la vecina"',
      device: 'phone-1',
      plan: 'alder-street-0417',
      plan_revision: '2',
      corrected_at: '',
      withdrawn_at: '',
      level: 'callToday',
      told: 'callNow',
      rules: 'one-sign two-signs',
      unwell: 'shakingChills unsure',
      temperature_c: '35.5',
      temperature_again_c: '35.61',
      temperature_given: '95.9',
      temperature_unit: '[degF]',
      temperature_site: 'ear',
      feels_feverish: '',
      warmth: 'warmer',
      glucose_given: '13.4',
      glucose_unit: 'mmol/L',
      offloading: 'unsure',
    });
    expect(wayBack(row?.note ?? '')).toBe('-5 kg since "May";\r\nshe says 🦶 hurts');
  });

  it('a foot without a wound in the check keeps its answers', () => {
    const records = fullLog().map((r) => (r.id === 'c2' && r.kind === 'check' ? { ...r, wounds: {} } : r));
    const rows = tableOf('checks.csv', records).filter((row) => row.record === 'c2');
    expect(rows.map((r) => [r.wound, r.foot, r.pain])).toEqual([
      ['', 'left', 'more'],
      ['', 'right', 'unsure'],
    ]);
  });

  it('measured pairs stand in °C and as they were typed', () => {
    const rows = tableOf('skin-temperatures.csv');
    expect(rows.map((r) => [r.record, r.foot, r.place, r.wound_side_c, r.other_side_c, r.wound_side_given, r.unit])).toEqual([
      ['c2', 'left', 'Heel', '33.4', '30.9', '33.4', 'Cel'],
      // 91.4 °F is 33 °C and 88.2 °F is 31.22 °C, by hand.
      ['c2', 'left', 'Ball, inner side', '33', '31.22', '91.4', '[degF]'],
    ]);
  });

  it('corrected and withdrawn records are one row each, marked', () => {
    const checks = tableOf('checks.csv');
    expect(checks.filter((r) => r.record === 'c1').map((r) => [r.pain, r.corrected_at])).toEqual([
      ['more', '2031-03-05T10:00:00.000-06:00'],
    ]);
    expect(checks.filter((r) => r.record === 'c3').map((r) => [r.withdrawn_at, r.withdrawn_why])).toEqual([
      ['2031-03-12T10:10:00.000-05:00', 'meant for tomorrow'],
    ]);
    expect(checks.some((r) => r.record === 'c1b' || r.record === 'x1')).toBe(false);
    expect(tableOf('notes.csv').map((r) => [r.for_visit, wayBack(r.text ?? '')])).toEqual([
      ['no', "'=SUM(A1:A9) was a joke"],
      ['yes', 'May I shower?'],
      ['no', 'no'],
    ]);
  });

  it('alerts stand with what answered them, failed calls counted', () => {
    expect(
      tableOf('alerts.csv').map((r) => [r.record, r.told, r.raised_by, r.answered, r.outcome, r.outcome_at, r.calls_not_answered]),
    ).toEqual([
      ['a1', 'callNow', 'c2', 'yes', 'reached', '2031-03-06T10:05:00.000-06:00', '1'],
      ['a2', 'emergency', 'nowhere', 'yes', 'calledEmergency', '2031-03-06T20:03:00.000-06:00', '0'],
      ['a3', 'callToday', 'c3', 'no', '', '', '0'],
    ]);
    expect(tableOf('outcomes.csv').map((r) => [r.alerts, r.what, wayBack(r.said ?? '')])).toContainEqual([
      'a1',
      'reached',
      '+1 dose, come at 4; "do not wait"',
    ]);
  });

  it('sizes, weights, supplies and steps keep their figures', () => {
    expect(tableOf('sizes.csv').map((r) => [r.record, r.method, r.length_mm, r.width_mm, r.depth_mm, r.area_mm2, r.perimeter_mm])).toEqual([
      ['m1', 'ruler', '20', '15', '2', '', ''],
      ['m2', 'trace', '', '', '', '251.3', '57.25'],
      ['m3', 'clinic', '', '', '3.5', '', ''],
      ['m4', 'ruler', '200', '15', '', '', ''],
    ]);
    expect(tableOf('weighings.csv').map((r) => [r.dry_g, r.used_g, r.step_g, r.worn_h, r.change])).toEqual([
      ['5.2', '11.4', '0.1', '47.5', 'g3'],
    ]);
    expect(tableOf('stock.csv').map((r) => [r.item, wayBack(r.item_name ?? ''), r.movement, r.pieces, r.use_by])).toEqual([
      ['collagen', 'Collagen sheet 5 × 5 cm', 'used', '1', ''],
      ['tape', '=Paper "tape", 2 cm', 'used', '0.5', ''],
      ['foam', 'Foam with border 10 × 10 cm', 'received', '10', '2032-01-31'],
      ['gauze', expect.any(String), 'counted', '40', ''],
      ['never-heard-of', '', 'wasted', '1', ''],
      ['never-heard-of', '', 'received', '2', ''],
      ['foam', 'Foam with border 10 × 10 cm', 'received', '1', ''],
    ]);
    expect(
      tableOf('steps.csv')
        .filter((r) => r.record === 'g2')
        .map((r) => [r.place, r.step, r.state, wayBack(r.remark ?? '')]),
    ).toEqual([
      ['1', 'remove', 'done', ''],
      ['2', 'fix', 'different', '@home: tape, then "net"'],
      ['3', 'device', 'skipped', ''],
    ]);
    expect(tableOf('photos.csv').map((r) => [r.photo, r.width_px])).toEqual([
      ['photo-1', '1200'],
      ['photo-2', '900'],
    ]);
    expect(tableOf('changes.csv').map((r) => [r.record, r.wound, r.stopped, r.path, r.drainage_amount, r.wound_bed])).toContainEqual([
      'g2',
      'w2',
      'yes',
      'coverAndCall',
      'heavy',
      'unsure',
    ]);
    expect(tableOf('visits.csv').map((r) => r.remark)).toEqual(['New boot', '']);
    expect(tableOf('plans.csv').map((r) => [r.accepted_revision, r.clinic])).toEqual([
      ['1', 'Alder Street Foot Clinic'],
      ['2', 'Alder Street Foot Clinic'],
    ]);
    expect(wayBack(tableOf('own-items.csv')[0]?.item_name ?? '')).toBe('=Paper "tape", 2 cm');
  });

  it('a period holds its days, and a kind that it does not hold has no table', () => {
    const files = filesOf(fullLog(), { from: '2031-03-11' as never });
    expect([...files.keys()]).toEqual([
      'checks.csv',
      'changes.csv',
      'steps.csv',
      'alerts.csv',
      'sizes.csv',
      'notes.csv',
      'visits.csv',
      'stock.csv',
      'columns.csv',
    ]);
    expect(rowsOf(files.get('checks.csv') ?? '').map((r) => r.record)).toEqual(['c3']);
  });
});

describe('the archive', () => {
  const files = [
    { name: 'checks.csv', text: csvText(TEXTS, [['é 🦶', 'x']]) },
    { name: 'columns.csv', text: 'a' },
  ];

  it('holds the files as they are, and is the same whenever it is made', () => {
    const bytes = zipTexts(files);
    expect([...zipTexts(files)]).toEqual([...bytes]);
    const back = Object.entries(unzipSync(bytes)).map(([name, content]) => ({
      name,
      text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(content),
    }));
    expect(back).toEqual(files);
  });

  it("opens by the format's own description with Node's inflate", () => {
    // APPNOTE.TXT 4.3.7: local file header PK\3\4, method at 8, sizes at 18, name length at 26, extra length at 28.
    const bytes = Buffer.from(zipTexts(files));
    expect(bytes.readUInt32LE(0)).toBe(0x04034b50);
    const [method, packed, nameLength, extra] = [
      bytes.readUInt16LE(8),
      bytes.readUInt32LE(18),
      bytes.readUInt16LE(26),
      bytes.readUInt16LE(28),
    ];
    expect(bytes.toString('utf8', 30, 30 + nameLength)).toBe('checks.csv');
    const start = 30 + nameLength + extra;
    const content = bytes.subarray(start, start + packed);
    expect((method === 8 ? inflateRawSync(content) : content).toString('utf8')).toBe(files[0]?.text);
  });
});
