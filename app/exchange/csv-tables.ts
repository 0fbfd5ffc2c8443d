import { type Answers, toCelsius, type WarmthPair } from '../care/check/answers.ts';
import type { ChangeRecord, CheckRecord, RecordKind, RecordOf } from '../care/log/records.ts';
import { alertStates, type Entry } from '../care/log/timeline.ts';
import { type Plan, SIDES, type Side } from '../care/plan/plan.ts';
import { type Cell, type Column, csvText } from './csv.ts';
import { answerColumns, joined, judgementColumns, recordColumns } from './csv-columns.ts';
import { itemNames } from './item-names.ts';
import { entriesWithin, type Period } from './period.ts';
import { zonedTime } from './zoned-time.ts';

export interface CsvExport {
  /** The plan in force, then those before it. */
  plans: readonly Plan[];
  /** The whole log; the period says what of it is written. */
  entries: readonly Entry[];
  period?: Period;
}

/** What tables are made from: the entries of the period, and what explains them. */
interface Source extends CsvExport {
  shown: readonly Entry[];
  names: ReadonlyMap<string, string>;
}

interface Table<Row> {
  file: string;
  about: string;
  columns: Column<Row>[];
  rows: (source: Source) => Row[];
}

/** A table whose rows nobody outside needs to know. */
interface AnyTable {
  file: string;
  about: string;
  columns: readonly Column<never>[];
  text: (source: Source) => string | undefined;
}

const table = <Row>({ file, about, columns, rows }: Table<Row>): AnyTable => ({
  file,
  about,
  columns: columns as readonly Column<never>[],
  text: (source) => {
    const found = rows(source);
    return found.length > 0 ? csvText(columns, found) : undefined;
  },
});

const ofKind = <K extends RecordKind>(entries: readonly Entry[], kind: K): Entry<RecordOf<K>>[] =>
  entries.filter((e): e is Entry<RecordOf<K>> => e.first.kind === kind);

/** A table with one row for each record of a kind, as it is now. */
function kindTable<K extends RecordKind>(file: string, kind: K, about: string, columns: Column<Entry<RecordOf<K>>>[]): AnyTable {
  return table<Entry<RecordOf<K>>>({
    file,
    about,
    columns: [...recordColumns<Entry<RecordOf<K>>>((e) => e), ...columns],
    rows: ({ shown }) => ofKind(shown, kind),
  });
}

/** A column that is read off the record as it is now. */
const field = <K extends RecordKind>(
  _kind: K,
  name: string,
  kind: Column<unknown>['kind'],
  about: string,
  of: (now: RecordOf<K>) => Cell,
): Column<Entry<RecordOf<K>>> => ({ name, kind, about, of: (e) => of(e.now) });

interface CheckRow {
  entry: Entry<CheckRecord>;
  wound?: string;
  side?: Side | undefined;
  answers: Answers;
}

/** One row for each wound of a check; a foot without a wound in it has one of its own, so that no answer is left out. */
function checkRows({ plans, shown }: Source): CheckRow[] {
  const sideOf = (now: CheckRecord, wound: string): Side | undefined => {
    const then = plans.filter((p) => p.id === now.plan?.id && p.revision === now.plan.revision);
    return [...then, ...plans].flatMap((p) => p.wounds).find((w) => w.id === wound)?.side;
  };
  return ofKind(shown, 'check').flatMap((entry): CheckRow[] => {
    const { person, feet, wounds } = entry.now;
    const byWound = Object.entries(wounds).map(([wound, answers]): CheckRow => {
      const side = sideOf(entry.now, wound);
      return { entry, wound, side, answers: { ...person, ...(side && feet[side]), ...answers } };
    });
    const others = SIDES.filter((side) => feet[side] && !byWound.some((row) => row.side === side));
    const rows = [...byWound, ...others.map((side): CheckRow => ({ entry, side, answers: { ...person, ...feet[side] } }))];
    return rows.length > 0 ? rows : [{ entry, answers: person }];
  });
}

interface PairRow {
  entry: Entry<CheckRecord | ChangeRecord>;
  side: Side | undefined;
  pair: WarmthPair;
}

function pairRows({ shown }: Source): PairRow[] {
  const pairsOf = (entry: PairRow['entry'], side: Side | undefined, answers: Answers | undefined): PairRow[] =>
    typeof answers?.warmth === 'object' ? answers.warmth.pairs.map((pair) => ({ entry, side, pair })) : [];
  return shown.flatMap((e) => {
    if (e.first.kind === 'check') {
      const entry = e as Entry<CheckRecord>;
      return SIDES.flatMap((side) => pairsOf(entry, side, entry.now.feet[side]));
    }
    return e.first.kind === 'change' ? pairsOf(e as Entry<ChangeRecord>, undefined, (e.now as ChangeRecord).answers) : [];
  });
}

const WOUND = 'Id of the wound in the plan.';
const celsius = (value: number, { unit }: WarmthPair): number => toCelsius(value, unit ?? 'Cel');

/** Every table, with every column in its order. */
export const CSV_TABLES: readonly AnyTable[] = [
  table<CheckRow>({
    file: 'checks.csv',
    about: 'The daily checks. One row for each wound of a check; what concerns the whole person or the foot is repeated.',
    columns: [
      ...recordColumns<CheckRow>((row) => row.entry),
      { name: 'wound', kind: 'id', about: WOUND, of: (row) => row.wound },
      { name: 'foot', kind: 'code', about: 'Foot that the row is about: left, right.', of: (row) => row.side },
      ...judgementColumns<CheckRow>((row) => row.entry.now.judgement),
      ...answerColumns<CheckRow>((row) => row.answers),
    ],
    rows: checkRows,
  }),
  table<PairRow>({
    file: 'skin-temperatures.csv',
    about: 'Matching places on both feet, measured during a check.',
    columns: [
      ...recordColumns<PairRow>((row) => row.entry),
      { name: 'foot', kind: 'code', about: 'Foot with the wound: left, right.', of: (row) => row.side },
      { name: 'place', kind: 'text', about: 'Name of the place in the plan.', of: (row) => row.pair.site },
      {
        name: 'wound_side_c',
        kind: 'number',
        about: 'Skin of the foot with the wound in °C.',
        of: ({ pair }) => celsius(pair.woundSide, pair),
      },
      { name: 'other_side_c', kind: 'number', about: 'Skin of the other foot in °C.', of: ({ pair }) => celsius(pair.otherSide, pair) },
      { name: 'wound_side_given', kind: 'number', about: 'The reading as it was typed.', of: ({ pair }) => pair.woundSide },
      { name: 'other_side_given', kind: 'number', about: 'The other reading as it was typed.', of: ({ pair }) => pair.otherSide },
      { name: 'unit', kind: 'code', about: 'Unit they were typed in (UCUM): Cel, [degF].', of: ({ pair }) => pair.unit ?? 'Cel' },
    ],
    rows: pairRows,
  }),
  kindTable('changes.csv', 'change', 'The dressing changes, with what was seen.', [
    field('change', 'wound', 'id', WOUND, (r) => r.wound),
    field('change', 'check', 'id', 'Record of the check of the same sitting.', (r) => r.check),
    { name: 'started_at', kind: 'time', about: 'When the first step began.', of: (e) => zonedTime(e.now.startedAt, e.first.zone) },
    field('change', 'stopped', 'yes or no', 'Broken off before the wound was dressed again.', (r) => r.stopped ?? false),
    field('change', 'path', 'code', 'What was followed: recipe, keepDry, coverAndCall.', (r) => r.path),
    field('change', 'band', 'code', 'Amount of drainage whose recipe was followed: none, light, moderate, heavy.', (r) => r.band),
    field('change', 'remark', 'text', "A note on the change in the person's words.", (r) => r.note),
    ...judgementColumns<Entry<ChangeRecord>>((e) => e.now.judgement),
    ...answerColumns<Entry<ChangeRecord>>((e) => e.now.answers ?? {}),
  ]),
  table<{ entry: Entry<ChangeRecord>; place: number }>({
    file: 'steps.csv',
    about: 'The steps of each change.',
    columns: [
      ...recordColumns<{ entry: Entry<ChangeRecord>; place: number }>((row) => row.entry),
      { name: 'place', kind: 'number', about: 'Place of the step in the change, from 1.', of: (row) => row.place + 1 },
      { name: 'step', kind: 'code', about: 'Which step.', of: ({ entry, place }) => entry.now.steps[place]?.step },
      { name: 'state', kind: 'code', about: 'done, different, skipped.', of: ({ entry, place }) => entry.now.steps[place]?.state },
      { name: 'remark', kind: 'text', about: "In the person's words.", of: ({ entry, place }) => entry.now.steps[place]?.note },
    ],
    rows: ({ shown }) => ofKind(shown, 'change').flatMap((entry) => entry.now.steps.map((_, place) => ({ entry, place }))),
  }),
  table<{ entry: Entry<RecordOf<'alert'>>; outcomes: readonly RecordOf<'outcome'>[] }>({
    file: 'alerts.csv',
    about: 'What the app told the person to do, and what came of it.',
    columns: [
      ...recordColumns<{ entry: Entry<RecordOf<'alert'>>; outcomes: readonly RecordOf<'outcome'>[] }>((row) => row.entry),
      { name: 'level', kind: 'code', about: 'Level by the rules: callToday, callNow, emergency.', of: ({ entry }) => entry.first.level },
      { name: 'told', kind: 'code', about: 'Level as it was told.', of: ({ entry }) => entry.first.told },
      { name: 'rules', kind: 'code', about: 'Rules that fired.', of: ({ entry }) => joined(entry.first.fired.map((r) => r.rule)) },
      { name: 'raised_by', kind: 'id', about: 'Record of the check or change that raised it.', of: ({ entry }) => entry.first.from },
      {
        name: 'answered',
        kind: 'yes or no',
        about: 'Whether somebody was reached or the person went to hospital.',
        of: ({ outcomes }) => outcomes.some((o) => o.what !== 'couldNotReach'),
      },
      {
        name: 'outcome',
        kind: 'code',
        about: 'What answered it, else the last try; see outcomes.csv.',
        of: ({ outcomes }) => answering(outcomes)?.what,
      },
      {
        name: 'outcome_at',
        kind: 'time',
        about: 'When that was written.',
        of: ({ outcomes }) => {
          const outcome = answering(outcomes);
          return outcome && zonedTime(outcome.at, outcome.zone);
        },
      },
      {
        name: 'calls_not_answered',
        kind: 'number',
        about: 'How often nobody could be reached.',
        of: ({ outcomes }) => outcomes.filter((o) => o.what === 'couldNotReach').length,
      },
    ],
    rows: ({ entries, shown }) => {
      const states = new Map(alertStates(entries).map((s) => [s.alert.id, s.outcomes]));
      return ofKind(shown, 'alert').map((entry) => ({ entry, outcomes: states.get(entry.first.id) ?? [] }));
    },
  }),
  kindTable('outcomes.csv', 'outcome', 'What was done about alerts.', [
    field('outcome', 'alerts', 'id', 'Records of the alerts, with blanks between them.', (r) => joined(r.alerts)),
    field('outcome', 'what', 'code', 'calledEmergency, reached, couldNotReach, wentToHospital.', (r) => r.what),
    field('outcome', 'said', 'text', "What they said, in the person's words.", (r) => r.said),
  ]),
  kindTable('sizes.csv', 'measurement', 'Sizes of a wound. The traced edge itself is left out.', [
    field('measurement', 'wound', 'id', WOUND, (r) => r.wound),
    field('measurement', 'method', 'code', 'How: ruler, clinic, trace.', (r) => r.method),
    field('measurement', 'length_mm', 'number', 'Longest line in mm.', (r) => r.lengthMm),
    field('measurement', 'width_mm', 'number', 'Widest part across it in mm.', (r) => r.widthMm),
    field('measurement', 'depth_mm', 'number', 'Depth in mm.', (r) => r.depthMm),
    field('measurement', 'area_mm2', 'number', 'Area in mm²; empty where only lines were measured.', (r) => r.areaMm2),
    field('measurement', 'perimeter_mm', 'number', 'Length of the traced edge in mm.', (r) => r.perimeterMm),
    field('measurement', 'scale', 'code', 'What stood beside it in the photo: code, card.', (r) => r.scale),
    field('measurement', 'photo', 'id', 'Photo it was traced on.', (r) => r.photo),
  ]),
  kindTable('photos.csv', 'photo', 'When photos were taken. The photos themselves are not in the tables.', [
    field('photo', 'wound', 'id', WOUND, (r) => r.wound),
    field('photo', 'photo', 'id', 'Id of the photo.', (r) => r.photo),
    field('photo', 'width_px', 'number', 'Width in pixels.', (r) => r.widthPx),
    field('photo', 'height_px', 'number', 'Height in pixels.', (r) => r.heightPx),
  ]),
  kindTable('weighings.csv', 'weighing', 'Dressings weighed dry and used.', [
    field('weighing', 'wound', 'id', WOUND, (r) => r.wound),
    field('weighing', 'change', 'id', 'Record of the change that took it off.', (r) => r.change),
    field('weighing', 'dry_g', 'number', 'Weight dry in g.', (r) => r.dryG),
    field('weighing', 'used_g', 'number', 'Weight used in g.', (r) => r.usedG),
    field('weighing', 'step_g', 'number', 'Smallest step of the scale in g.', (r) => r.stepG),
    field('weighing', 'worn_h', 'number', 'How long it was worn, in hours.', (r) => r.hours),
  ]),
  kindTable('notes.csv', 'note', 'Notes, and questions for the next visit.', [
    field('note', 'for_visit', 'yes or no', 'A question for the next visit.', (r) => r.forVisit ?? false),
    field('note', 'text', 'text', "In the person's words.", (r) => r.text),
  ]),
  kindTable('visits.csv', 'visit', 'Days at the clinic.', [field('visit', 'remark', 'text', "In the person's words.", (r) => r.note)]),
  table<{ entry: Entry<RecordOf<'stock'>>; name: string | undefined }>({
    file: 'stock.csv',
    about: 'Supplies that came, were used, were thrown away or were counted.',
    columns: [
      ...recordColumns<{ entry: Entry<RecordOf<'stock'>>; name: string | undefined }>((row) => row.entry),
      { name: 'item', kind: 'id', about: 'Id of the item.', of: ({ entry }) => entry.now.item },
      { name: 'item_name', kind: 'text', about: 'What it is called.', of: ({ name }) => name },
      { name: 'movement', kind: 'code', about: 'received, used, wasted, counted.', of: ({ entry }) => entry.now.movement },
      {
        name: 'pieces',
        kind: 'number',
        about: 'How many single pieces; for counted, how many there were.',
        of: ({ entry }) => entry.now.amount,
      },
      { name: 'use_by', kind: 'day', about: 'Last day on which they may be used.', of: ({ entry }) => entry.now.expires },
      { name: 'change', kind: 'id', about: 'Record of the change that used them.', of: ({ entry }) => entry.now.change },
      { name: 'remark', kind: 'text', about: "In the person's words.", of: ({ entry }) => entry.now.note },
    ],
    rows: ({ shown, names }) => ofKind(shown, 'stock').map((entry) => ({ entry, name: names.get(entry.now.item) })),
  }),
  kindTable('own-items.csv', 'ownItem', 'Supplies beside those of the plan.', [
    field('ownItem', 'item', 'id', 'Id of the item.', (r) => r.item),
    field('ownItem', 'item_name', 'text', 'What it is called.', (r) => r.name),
    field('ownItem', 'pack_of', 'number', 'How many are in a pack.', (r) => r.packOf),
  ]),
  kindTable('plans.csv', 'planAccepted', 'Plans that were taken in.', [
    field('planAccepted', 'accepted_plan', 'id', 'Id of the plan.', (r) => r.accepted.id),
    field('planAccepted', 'accepted_revision', 'number', 'Its version.', (r) => r.accepted.revision),
    field('planAccepted', 'clinic', 'text', 'The clinic that wrote it.', (r) => r.accepted.clinic),
  ]),
];

/** The outcome that answered an alert, else the last try. */
const answering = (outcomes: readonly RecordOf<'outcome'>[]): RecordOf<'outcome'> | undefined =>
  outcomes.find((o) => o.what !== 'couldNotReach') ?? outcomes.at(-1);

interface ColumnRow {
  table: AnyTable;
  column: Column<never>;
}

/** The description of all columns, as a table like the others. */
const DESCRIPTION = table<ColumnRow>({
  file: 'columns.csv',
  about: 'What every column of every table holds.',
  columns: [
    { name: 'file', kind: 'text', about: 'The table.', of: (row) => row.table.file },
    { name: 'file_about', kind: 'text', about: 'What the table holds.', of: (row) => row.table.about },
    { name: 'column', kind: 'text', about: 'The column.', of: (row) => row.column.name },
    { name: 'kind', kind: 'code', about: 'What its cells are.', of: (row) => row.column.kind },
    { name: 'about', kind: 'text', about: 'What it holds.', of: (row) => row.column.about },
  ],
  rows: () => CSV_TABLES.flatMap((t) => t.columns.map((column) => ({ table: t, column }))),
});

/**
 * The log as tables, a file for each kind of record that the period holds,
 * and one that describes all columns. Names and codes are English in every
 * language, so that a program can read them. Corrected records stand as they
 * are now, withdrawn ones are marked.
 */
export function csvFiles({ plans, entries, period = {} }: CsvExport): { name: string; text: string }[] {
  const source: Source = { plans, entries, period, shown: entriesWithin(entries, period), names: itemNames(plans, entries) };
  return [...CSV_TABLES, DESCRIPTION].flatMap((t) => {
    const text = t.text(source);
    return text === undefined ? [] : [{ name: t.file, text }];
  });
}
