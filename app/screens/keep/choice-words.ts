import type { Answers } from '../../care/check/answers.ts';
import { QUESTIONS, type QuestionId } from '../../care/check/questions.ts';
import type { Conflict } from '../../care/log/conflicts.ts';
import type { LogRecord } from '../../care/log/records.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { answerText } from '../../words/answers.ts';
import { formatDay, formatLength, formatNumber, formatTime, inARow } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { footName, woundName } from '../../words/names.ts';

/** Who wrote a record, when, and on which phone. */
export function whoAndWhen(record: LogRecord, device: string | undefined): string {
  const who = record.by.name ?? t(`settings:whoIs.${record.by.who}`);
  const when = inARow([formatDay(record.day, 'short'), formatTime(record.at, record.zone)]);
  return t(record.device === device ? 'keep:judge.here' : 'keep:judge.there', { who, when });
}

/** The name of a supply, from the plan or from what the person added. */
export function supplyName(item: string, plan: Plan, records: readonly LogRecord[]): string {
  const own = records.filter((r) => r.kind === 'ownItem').find((r) => r.item === item)?.name;
  const name = plan.supplies.find((s) => s.id === item)?.name ?? own;
  return name === undefined ? t('supplies:noName') : apart(name);
}

/** Every answer of a record with what it is about, by a key that is the same in another version of it. */
function answersOf(record: LogRecord, plan: Plan): Map<string, { about: string; id: QuestionId; answer: unknown }> {
  const found = new Map<string, { about: string; id: QuestionId; answer: unknown }>();
  const add = (place: string, about: string, answers: Answers | undefined): void => {
    for (const { id } of QUESTIONS) if (answers?.[id] !== undefined) found.set(`${place}/${id}`, { about, id, answer: answers[id] });
  };
  if (record.kind === 'change') add('', '', record.answers);
  if (record.kind !== 'check') return found;
  add('person', '', record.person);
  for (const side of ['left', 'right'] as const) add(side, footName(side), record.feet[side]);
  for (const [id, answers] of Object.entries(record.wounds)) {
    const wound = plan.wounds.find((w) => w.id === id);
    add(id, wound ? woundName(wound) : '', answers);
  }
  return found;
}

/** What a version of a record says that another of them does not. */
function differences(record: LogRecord, others: readonly LogRecord[], plan: Plan): string[] {
  const own = answersOf(record, plan);
  const all = others.map((other) => answersOf(other, plan));
  const keys = new Set([...own.keys(), ...all.flatMap((answers) => [...answers.keys()])]);
  return [...keys].flatMap((key) => {
    const mine = own.get(key);
    const text = JSON.stringify(mine?.answer);
    if (all.every((answers) => JSON.stringify(answers.get(key)?.answer) === text)) return [];
    const { about, id } =
      mine ?? (all.map((answers) => answers.get(key)).find((a) => a !== undefined) as { about: string; id: QuestionId });
    const line = t('check:line', {
      question: t(`check:${id}.short`),
      answer: mine ? answerText(id, mine.answer) : t('keep:judge.noAnswer'),
    });
    return [about ? t('check:line', { question: about, answer: line }) : line];
  });
}

/** What a record says, in the few words that tell it from the other choices. */
export function choiceText(record: LogRecord, conflict: Conflict, choices: readonly LogRecord[], plan: Plan, unit: 'cm' | 'in'): string {
  if (record.kind === 'stock') return t(`supplies:moved.${record.movement}`, { amount: formatNumber(record.amount, 2) });
  if (record.kind === 'outcome') return [t(`alert:outcome.${record.what}`), record.said && apart(record.said)].filter(Boolean).join(' – ');
  if (record.kind === 'note') return apart(record.text);
  if (record.kind === 'ownItem') return apart(record.name);
  if (record.kind === 'measurement') {
    return [record.lengthMm, record.widthMm]
      .filter((mm) => mm !== undefined)
      .map((mm) => formatLength(mm, unit))
      .join(' × ');
  }
  if (record.kind === 'weighing')
    return t('keep:judge.weighed', { used: formatNumber(record.usedG, 1), dry: formatNumber(record.dryG, 1) });
  if (conflict.kind === 'changed' && record.kind === 'change') {
    return record.band ? t(`check:drainageAmount.said.${record.band}`) : t('keep:judge.noAnswer');
  }
  const lines = differences(
    record,
    choices.filter((other) => other !== record),
    plan,
  );
  return lines.length > 0 ? inARow(lines, ';') : t('keep:judge.otherWords');
}
