import { useState } from 'preact/hooks';
import { type Answers, mildestAnswers } from '../care/check/answers.ts';
import { questionsFor } from '../care/check/applies.ts';
import type { Question } from '../care/check/questions.ts';
import { judge } from '../care/escalation/judge.ts';
import { type Call, whoToCall } from '../care/escalation/who-to-call.ts';
import { emergencyNumbersFor } from '../care/plan/emergency-numbers.ts';
import type { Plan } from '../care/plan/plan.ts';
import { instantOf, isLocalDay, type LocalDay, minutesOf, wallClock } from '../care/schedule/day.ts';
import { LevelWord } from '../parts/level.tsx';
import { Reasons } from '../parts/reasons.tsx';
import { formatTime } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { deskRegion } from './desk-region.ts';
import { NumberBox, Pick, TextBox } from './fields.tsx';

const emergencyNumberOf = (plan: Plan): string => plan.clinic.emergencyNumber ?? emergencyNumbersFor(deskRegion())[0] ?? '112';

const two = (n: number): string => String(n).padStart(2, '0');

/** What the app would say to some answers at some hour, without a phone. The answers begin at the mildest. */
export function DryRun({ plan, woundId, now }: { plan: Plan; woundId: string; now: number }) {
  const { zone } = plan.clinic;
  const clock = wallClock(now, zone);
  const [at, setAt] = useState(`${clock.day}T${two(Math.floor(clock.minutes / 60))}:${two(clock.minutes % 60)}`);
  const wound = plan.wounds.find((w) => w.id === woundId) ?? plan.wounds[0];
  const [given, setGiven] = useState<Answers>(() => ({
    ...mildestAnswers(),
    ...(wound ? { drainageAmount: wound.expectedDrainage[0] } : {}),
  }));
  if (!wound) return null;
  const [day, time] = at.split('T');
  const minutes = time === undefined ? Number.NaN : minutesOf(time);
  const isTime = day !== undefined && isLocalDay(day) && Number.isFinite(minutes);
  const instant = isTime ? instantOf(day as LocalDay, minutes, zone) : now;
  const moment = { at: instant, day: isTime ? (day as LocalDay) : clock.day };
  const emergencyNumber = emergencyNumberOf(plan);
  const judgement = judge({ plan, entries: [], emergencyNumber, now: moment }, new Map([[wound, given]]));
  const { told, call } = whoToCall(plan.clinic, emergencyNumber, judgement.level, instant);
  const questions = questionsFor(true, plan.asks).filter((q) => q.kind !== 'words');
  return (
    <div class="dry-run">
      <div class="outcome" role="status">
        <LevelWord level={told} />
        <p>{callText(call, zone)}</p>
        {judgement.fired.length > 0 ? <Reasons fired={judgement.fired} /> : <p class="f-hint">{t('clinic:dry.noReason')}</p>}
        {judgement.quieted.length > 0 && <p class="f-hint">{t('clinic:dry.quieted', { count: judgement.quieted.length })}</p>}
      </div>
      <p class="f-hint">{t('clinic:dry.hint')}</p>
      <TextBox type="datetime-local" label={t('clinic:dry.when', { zone })} value={at} onChange={setAt} />
      <div class="f-row">
        {questions.map((q) => (
          <Answer key={q.id} question={q} given={given} onChange={(part) => setGiven({ ...given, ...part })} />
        ))}
      </div>
    </div>
  );
}

function callText(call: Call, zone: string): string {
  if (call.to === 'nobody') return t('clinic:dry.nobody');
  if (call.to === 'department') return t('clinic:dry.department');
  if (call.to === 'clinicWhenOpen') return t('clinic:dry.whenOpen', { phone: call.phone, time: formatTime(call.opensAt, zone) });
  return t(`clinic:dry.${call.to}`, { phone: call.phone });
}

interface AnswerProps {
  question: Question;
  given: Answers;
  onChange: (part: Partial<Answers>) => void;
}

function Answer({ question: q, given, onChange }: AnswerProps) {
  if (q.id === 'temperature') {
    const own = given.temperature;
    return (
      <NumberBox
        label={t('check:temperature.short')}
        unit="°C"
        value={own && 'value' in own ? own.value : undefined}
        onChange={(value) => onChange({ temperature: { value: value ?? 36.8, unit: 'Cel' } })}
      />
    );
  }
  if (q.id === 'glucose') {
    return (
      <NumberBox
        label={t('check:glucose.short')}
        unit="mg/dL"
        value={given.glucose?.value}
        onChange={(value) => onChange({ glucose: value === undefined ? undefined : { value, unit: 'mg/dL' } } as Partial<Answers>)}
      />
    );
  }
  const own = given[q.id];
  const code = Array.isArray(own) ? String(own[0]) : String(own);
  return (
    <Pick
      label={t(`check:${q.id}.short`)}
      value={code}
      options={[...q.codes, 'unsure'].map((c) => [c, t(`check:${q.id}.said.${c}`)])}
      onChange={(next) => onChange({ [q.id]: q.kind === 'manyOf' ? [next] : next } as Partial<Answers>)}
    />
  );
}
