import type { Clinic } from '../care/plan/plan.ts';
import { isLocalDay, type LocalDay, WEEKDAYS, type Weekday } from '../care/schedule/day.ts';
import { formatWeekday, latinDigits } from '../words/format.ts';
import { isUnchecked, LANGUAGES, t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { setClinic, setPerson, setPlan } from './desk-state.ts';
import { Lines, Pick, Section, TextBox } from './fields.tsx';

/** Who writes the plan and for whom. What is said of the clinic is kept on this device for the next plan. */
export function ClinicForm({ onLanguage }: { onLanguage: (language: string) => void }) {
  const { state, edit } = useDesk();
  const { clinic, person } = state.draft;
  /** A phone number as it can be dialled, on whatever keyboard it was typed. */
  const numberOf = (text: string) => latinDigits(text).trim();
  const orNone = (text: string) => (text.trim() === '' ? undefined : text.trim());
  const unchecked = isUnchecked(person.language) ? t('clinic:person.unchecked') : undefined;
  return (
    <Section id="clinic" number={5} title={t('clinic:part.clinic')}>
      <div class="f-row">
        <TextBox
          field="person.callMe"
          label={t('clinic:person.callMe')}
          value={person.callMe}
          most={40}
          onChange={(callMe) => edit(setPerson({ callMe }))}
        />
        <Pick
          label={t('clinic:person.language')}
          value={person.language}
          options={Object.entries(LANGUAGES)}
          hint={unchecked}
          onChange={onLanguage}
        />
        <TextBox
          wide
          label={t('clinic:person.greeting')}
          value={state.draft.greeting ?? ''}
          most={400}
          onChange={(text) => edit(setPlan({ greeting: text === '' ? undefined : text }))}
        />
      </div>
      <h3>{t('clinic:clinic.title')}</h3>
      <p class="f-hint">{t('clinic:clinic.kept')}</p>
      <div class="f-row">
        <TextBox
          wide
          field="clinic.name"
          label={t('clinic:clinic.name')}
          value={clinic.name}
          most={80}
          onChange={(name) => edit(setClinic({ name }))}
        />
        <TextBox
          type="tel"
          field="clinic.phone"
          label={t('clinic:clinic.phone')}
          value={clinic.phone}
          most={30}
          onChange={(phone) => edit(setClinic({ phone: numberOf(phone) }))}
        />
        <TextBox
          type="tel"
          field="clinic.outOfHoursPhone"
          label={t('clinic:clinic.outOfHours')}
          value={clinic.outOfHoursPhone ?? ''}
          most={30}
          onChange={(phone) => edit(setClinic({ outOfHoursPhone: orNone(numberOf(phone)) }))}
        />
        <TextBox
          type="tel"
          field="clinic.emergencyNumber"
          label={t('clinic:clinic.emergency')}
          value={clinic.emergencyNumber ?? ''}
          most={6}
          onChange={(phone) => edit(setClinic({ emergencyNumber: orNone(numberOf(phone)) }))}
        />
        <TextBox
          field="clinic.zone"
          label={t('clinic:clinic.zone')}
          value={clinic.zone}
          most={60}
          onChange={(zone) => edit(setClinic({ zone: zone.trim() }))}
        />
      </div>
      <Hours />
      <Lines
        label={t('clinic:clinic.closedDays')}
        hint={t('clinic:clinic.closedDaysHint')}
        value={clinic.closedDays ?? []}
        onChange={(days) => {
          const real = days.map(latinDigits).filter((d): d is LocalDay => isLocalDay(d));
          edit(setClinic({ closedDays: real.length > 0 ? real : undefined }));
        }}
      />
    </Section>
  );
}

type Span = Clinic['hours'][number];
const USUAL = { opens: '08:30', closes: '17:00' } as const;

/** Opening hours, a line a day; a second span for a day with a break. */
function Hours() {
  const { state, edit } = useDesk();
  const { hours } = state.draft.clinic;
  const set = (next: Span[]) =>
    edit(setClinic({ hours: [...next].sort((a, b) => WEEKDAYS.indexOf(a.day) - WEEKDAYS.indexOf(b.day) || (a.opens < b.opens ? -1 : 1)) }));
  const change = (span: Span, part: Partial<Span>) => set(hours.map((h) => (h === span ? { ...h, ...part } : h)));
  const weekdays: readonly Weekday[] = WEEKDAYS.slice(0, 5);
  return (
    <fieldset class="hours">
      <legend>{t('clinic:clinic.hours')}</legend>
      <div class="chips">
        <button type="button" class="chip" onClick={() => set(weekdays.map((day) => ({ day, ...USUAL })))}>
          {t('clinic:clinic.usualHours', { from: USUAL.opens, to: USUAL.closes })}
        </button>
      </div>
      {WEEKDAYS.map((day, i) => {
        const name = formatWeekday(i);
        const spans = hours.filter((h) => h.day === day);
        return (
          <div class="hours-day" key={day}>
            <span class="hours-name">{name}</span>
            {spans.length === 0 && <span class="hours-closed">{t('plan:closed')}</span>}
            {spans.map((span, n) => (
              <span class="hours-span" key={`${day}${n}`}>
                <input
                  type="time"
                  value={span.opens}
                  aria-label={t('clinic:clinic.opens', { day: name })}
                  onChange={(event) => change(span, { opens: event.currentTarget.value })}
                />
                <span aria-hidden="true">–</span>
                <input
                  type="time"
                  value={span.closes}
                  aria-label={t('clinic:clinic.closes', { day: name })}
                  onChange={(event) => change(span, { closes: event.currentTarget.value })}
                />
                <button
                  type="button"
                  class="tiny"
                  aria-label={t('clinic:drop', { what: `${name} ${span.opens} – ${span.closes}` })}
                  onClick={() => set(hours.filter((h) => h !== span))}
                >
                  ×
                </button>
              </span>
            ))}
            {spans.length < 2 && (
              <button
                type="button"
                class="tiny"
                aria-label={t('clinic:clinic.addHours', { day: name })}
                onClick={() => set([...hours, spans.length === 0 ? { day, ...USUAL } : { day, opens: '18:00', closes: '20:00' }])}
              >
                +
              </button>
            )}
          </div>
        );
      })}
    </fieldset>
  );
}
