import { openDayNear, REVIEW_DAYS_MOST } from '../care/plan/plan-findings.ts';
import { addDays, type LocalDay } from '../care/schedule/day.ts';
import { formatDay } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { setPlan } from './desk-state.ts';
import { NumberBox, Section, TextBox } from './fields.tsx';

const WEEKS = [1, 2, 3, 4] as const;

/** When the plan is looked at again, and the next visit. */
export function DatesForm() {
  const { state, edit, today } = useDesk();
  const { draft } = state;
  const visit = draft.nextVisit;
  /** The time is for the clinician to say: none is made up. */
  const both = (weeks: number) => {
    const day = openDayNear(draft.clinic, addDays(today, weeks * 7), addDays(today, REVIEW_DAYS_MOST));
    edit(setPlan({ reviewBy: day, nextVisit: { day, time: visit?.time ?? '' } }));
  };
  return (
    <Section id="dates" number={4} title={t('clinic:part.dates')}>
      <p class="f-hint">{t('clinic:dates.issued', { day: formatDay(draft.issued, 'short'), revision: draft.revision })}</p>
      <div class="chips">
        {WEEKS.map((weeks) => (
          <button key={weeks} type="button" class="chip" onClick={() => both(weeks)}>
            {t('clinic:dates.weeks', { count: weeks })}
          </button>
        ))}
      </div>
      <div class="f-row">
        <TextBox
          type="date"
          field="reviewBy"
          label={t('clinic:dates.review')}
          value={draft.reviewBy ?? ''}
          onChange={(day) => edit(setPlan({ reviewBy: day === '' ? undefined : (day as LocalDay) }))}
        />
        <TextBox
          type="date"
          field="nextVisit.day"
          label={t('clinic:dates.visit')}
          value={visit?.day ?? ''}
          onChange={(day) => edit(setPlan({ nextVisit: day === '' ? undefined : { day: day as LocalDay, time: visit?.time ?? '' } }))}
        />
        {visit && (
          <TextBox
            type="time"
            field="nextVisit.time"
            label={t('clinic:dates.time')}
            value={visit.time}
            onChange={(time) => edit(setPlan({ nextVisit: { ...visit, time } }))}
          />
        )}
        {draft.wounds.length > 1 && (
          <NumberBox
            label={t('clinic:dates.join')}
            unit={t('clinic:dates.hours')}
            value={draft.joinWithinHours}
            onChange={(joinWithinHours) => edit(setPlan({ joinWithinHours }))}
          />
        )}
      </div>
    </Section>
  );
}
