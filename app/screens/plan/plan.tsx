import { bandGroups } from '../../care/plan/band-calls.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { WEEKDAYS } from '../../care/schedule/day.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { Donts } from '../../parts/donts.tsx';
import { Page } from '../../parts/page.tsx';
import { callText } from '../../words/call-text.ts';
import { formatClock, formatDay, formatWeekday, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { amountText, dressingName, intervalText, woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { unitsOf } from '../units.ts';

/** The plan as the clinic wrote it, to read. */
export function PlanScreen() {
  const { book } = useBook();
  const { plan } = book;
  const { clinic } = plan;
  return (
    <Page
      title={t('plan:title', { name: plan.person.callMe })}
      over={t('plan:version', { revision: plan.revision, day: formatDay(plan.issued, 'short') })}
      back={() => go('today')}
      foot={
        <a class="button button-second" href="#/open">
          {t('plan:openNew')}
        </a>
      }
    >
      {plan.greeting && (
        <blockquote class="clinic-note">
          <p dir="auto">{plan.greeting}</p>
          <footer>
            <bdi>{clinic.name}</bdi>
          </footer>
        </blockquote>
      )}
      {plan.wounds.map((wound) => (
        <WoundPlan key={wound.id} wound={wound} />
      ))}
      <Donts plan={plan} />
      {plan.device && (
        <section>
          <h2>{t('plan:device')}</h2>
          <p>{t(`plan:deviceKind.${plan.device.kind}`)}</p>
          {plan.device.note && <p dir="auto">{plan.device.note}</p>}
        </section>
      )}
      <section>
        <h2>
          <bdi>{clinic.name}</bdi>
        </h2>
        <div class="stack">
          <CallButton phone={clinic.phone} label={t('alert:call.clinic')} tone="quiet" />
          {clinic.outOfHoursPhone && <CallButton phone={clinic.outOfHoursPhone} label={t('alert:call.outOfHours')} tone="quiet" />}
        </div>
        <h3>{t('plan:hours')}</h3>
        <ul class="facts">
          {WEEKDAYS.map((day, i) => {
            const spans = clinic.hours.filter((h) => h.day === day).map((h) => `${formatClock(h.opens)} – ${formatClock(h.closes)}`);
            return (
              <li key={day}>
                {t('plan:hoursLine', { day: formatWeekday(i), hours: spans.length > 0 ? inARow(spans) : t('plan:closed') })}
              </li>
            );
          })}
        </ul>
        <p class="hint">{t('plan:hoursZone', { zone: clinic.zone })}</p>
      </section>
      {(plan.nextVisit || plan.reviewBy) && (
        <section>
          <h2>{t('plan:visits')}</h2>
          <ul class="facts">
            {plan.nextVisit && (
              <li>{t('plan:nextVisit', { day: formatDay(plan.nextVisit.day), time: formatClock(plan.nextVisit.time) })}</li>
            )}
            {plan.reviewBy && <li>{t('plan:reviewBy', { day: formatDay(plan.reviewBy) })}</li>}
          </ul>
        </section>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}

function WoundPlan({ wound }: { wound: Wound }) {
  const { state, book } = useBook();
  const unit = unitsOf(state).length;
  return (
    <section class="wound-plan">
      <h2>{woundName(wound)}</h2>
      {wound.keepDry && <p class="notice">{t('change:keepDry')}</p>}
      {bandGroups(book.plan, wound).map(({ bands, recipe, call }) => (
        <section key={bands.join()} class="recipe">
          <h3>{t('plan:whenDrainage', { amounts: bands.map((b) => t(`check:drainageAmount.said.${b}`)).join(' / ') })}</h3>
          {call && <p class="notice">{callText(recipe !== undefined, call)}</p>}
          {recipe && (
            <ul class="facts">
              {recipe.primary && <li>{dressingName(recipe.primary, unit)}</li>}
              {recipe.secondary && <li>{dressingName(recipe.secondary, unit)}</li>}
              <li>{t(`change:fixation.${recipe.fixation}`)}</li>
              <li>{t('plan:changeEvery', { every: intervalText(recipe.change) })}</li>
              <li>{inARow(recipe.uses.map((u) => amountText(book.plan, u)))}</li>
            </ul>
          )}
        </section>
      ))}
    </section>
  );
}
