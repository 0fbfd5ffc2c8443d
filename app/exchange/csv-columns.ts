import type { Answers } from '../care/check/answers.ts';
import { toCelsius, toMgdl } from '../care/check/answers.ts';
import { QUESTIONS, type Question } from '../care/check/questions.ts';
import type { Judgement } from '../care/log/records.ts';
import type { Entry } from '../care/log/timeline.ts';
import type { Column } from './csv.ts';
import { zonedTime } from './zoned-time.ts';

/** `drainageAmount` as `drainage_amount`. */
const snake = (name: string): string => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** Several codes or ids in one cell. */
export const joined = (codes: readonly string[]): string => codes.join(' ');

/** The columns that every table begins with. */
export const recordColumns = <Row>(entryOf: (row: Row) => Entry): Column<Row>[] => {
  const of = (get: (entry: Entry) => string | number | undefined) => (row: Row) => get(entryOf(row));
  return [
    { name: 'record', kind: 'id', about: 'Id of the record; other tables refer to it.', of: of((e) => e.first.id) },
    { name: 'day', kind: 'day', about: 'Calendar day where the person was.', of: of((e) => e.first.day) },
    {
      name: 'time',
      kind: 'time',
      about: 'When it was written, on the wall clock of the zone, with the offset from UTC.',
      of: of((e) => zonedTime(e.first.at, e.first.zone)),
    },
    { name: 'zone', kind: 'text', about: 'Time zone of the person at that time (IANA).', of: of((e) => e.first.zone) },
    { name: 'by', kind: 'code', about: 'Who wrote it: patient, caregiver.', of: of((e) => e.first.by.who) },
    { name: 'by_name', kind: 'text', about: 'Name of the writer, if the phone knows it.', of: of((e) => e.first.by.name) },
    { name: 'device', kind: 'id', about: 'Id of the phone it was written on.', of: of((e) => e.first.device) },
    { name: 'plan', kind: 'id', about: 'Id of the plan in force.', of: of((e) => e.now.plan?.id) },
    { name: 'plan_revision', kind: 'number', about: 'Version of that plan.', of: of((e) => e.now.plan?.revision) },
    {
      name: 'corrected_at',
      kind: 'time',
      about: 'When it was corrected last; the row shows it as corrected.',
      of: of((e) => (e.versions.length > 1 ? zonedTime(e.now.at, e.now.zone) : undefined)),
    },
    {
      name: 'corrected_by',
      kind: 'code',
      about: 'Who corrected it last: patient, caregiver.',
      of: of((e) => (e.versions.length > 1 ? e.now.by.who : undefined)),
    },
    {
      name: 'withdrawn_at',
      kind: 'time',
      about: 'When it was withdrawn; a withdrawn record no longer counts.',
      of: of((e) => e.voided && zonedTime(e.voided.at, e.voided.zone)),
    },
    { name: 'withdrawn_by', kind: 'code', about: 'Who withdrew it: patient, caregiver.', of: of((e) => e.voided?.by.who) },
    { name: 'withdrawn_why', kind: 'text', about: "Why, in the person's words.", of: of((e) => e.voided?.why) },
  ];
};

/** What the app made of a check or change. */
export const judgementColumns = <Row>(judgementOf: (row: Row) => Judgement | undefined): Column<Row>[] => [
  {
    name: 'level',
    kind: 'code',
    about: 'Level by the rules: carryOn, mention, callToday, callNow, emergency, unfinished.',
    of: (row) => judgementOf(row)?.level,
  },
  {
    name: 'told',
    kind: 'code',
    about: 'Level as it was told; a call today is a call now where the clinic would close before.',
    of: (row) => judgementOf(row)?.told,
  },
  {
    name: 'rules',
    kind: 'code',
    about: 'Rules that fired.',
    of: (row) => judgementOf(row) && joined(judgementOf(row)?.fired.map((r) => r.rule) ?? []),
  },
];

const codeList = (q: Question): string => [...q.codes, 'unsure'].join(', ');

/** The answers to all questions, in the order in which they are asked. */
export const answerColumns = <Row>(answersOf: (row: Row) => Answers): Column<Row>[] =>
  QUESTIONS.flatMap((q) => columnsOf(q)).map(({ of, ...column }) => ({ ...column, of: (row) => of(answersOf(row)) }));

function columnsOf(q: Question): Column<Answers>[] {
  if (q.kind === 'temperature') return TEMPERATURE;
  if (q.kind === 'glucose') return GLUCOSE;
  if (q.kind === 'words') return [{ name: snake(q.id), kind: 'text', about: "A note in the person's words.", of: (a) => a.note }];
  if (q.kind === 'warmth') {
    const about = `How the foot feels against the other: ${codeList(q)}. Measured pairs stand in skin-temperatures.csv.`;
    return [{ name: q.id, kind: 'code', about, of: ({ warmth }) => (typeof warmth === 'object' ? warmth.feel : warmth) }];
  }
  const about = q.kind === 'manyOf' ? `Answers, with blanks between them: ${codeList(q)}.` : `Answer: ${codeList(q)}.`;
  return [
    {
      name: snake(q.id),
      kind: 'code',
      about,
      of: (a) => {
        const given = a[q.id] as string | readonly string[] | undefined;
        return typeof given === 'object' ? joined(given) : given;
      },
    },
  ];
}

const measured = ({ temperature }: Answers) => (temperature && 'value' in temperature ? temperature : undefined);
const inCelsius = (value: number | undefined, a: Answers): number | undefined =>
  value === undefined ? undefined : toCelsius(value, measured(a)?.unit ?? 'Cel');
const TEMPERATURE: Column<Answers>[] = [
  { name: 'temperature_c', kind: 'number', about: 'Body temperature in °C.', of: (a) => inCelsius(measured(a)?.value, a) },
  { name: 'temperature_again_c', kind: 'number', about: 'A second reading in °C.', of: (a) => inCelsius(measured(a)?.again, a) },
  { name: 'temperature_given', kind: 'number', about: 'The reading as it was typed.', of: (a) => measured(a)?.value },
  { name: 'temperature_again_given', kind: 'number', about: 'The second reading as it was typed.', of: (a) => measured(a)?.again },
  { name: 'temperature_unit', kind: 'code', about: 'Unit it was typed in (UCUM): Cel, [degF].', of: (a) => measured(a)?.unit },
  { name: 'temperature_site', kind: 'code', about: 'Where: mouth, ear, forehead, armpit.', of: (a) => measured(a)?.site },
  {
    name: 'feels_feverish',
    kind: 'code',
    about: 'Without a thermometer: no, unsure, yes.',
    of: ({ temperature }) => (temperature && 'feelsFeverish' in temperature ? temperature.feelsFeverish : undefined),
  },
];
const GLUCOSE: Column<Answers>[] = [
  {
    name: 'glucose_mg_dl',
    kind: 'number',
    about: 'Blood sugar in mg/dL, whole as meters show it.',
    of: ({ glucose }) => glucose && toMgdl(glucose.value, glucose.unit),
  },
  { name: 'glucose_given', kind: 'number', about: 'The reading as it was typed.', of: ({ glucose }) => glucose?.value },
  { name: 'glucose_unit', kind: 'code', about: 'Unit it was typed in (UCUM): mg/dL, mmol/L.', of: ({ glucose }) => glucose?.unit },
];
