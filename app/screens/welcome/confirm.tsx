import { useState } from 'preact/hooks';
import { BANDS } from '../../care/check/questions.ts';
import { type PlanChange, planChanges, planVerdict } from '../../care/plan/compare.ts';
import { type Plan, recipeFor } from '../../care/plan/plan.ts';
import { type PlanArrival, planFromText } from '../../exchange/plan-file.ts';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { faultLines } from '../../words/faults.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { intervalText, woundName } from '../../words/names.ts';
import { useNotebook } from '../context.ts';
import { go, replace } from '../route.ts';

/** A plan that arrived is shown before it takes effect. The plan in use stays until the person agrees. */
export function ConfirmScreen() {
  const { notebook, state } = useNotebook();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const leave = async () => {
    await notebook.dropIncoming();
    replace(notebook.state.book ? 'today' : 'welcome');
  };
  if (state.incoming === undefined) return <Refused lines={[t('welcome:fault.nothing')]} onLeave={leave} />;
  const arrival = planFromText(state.incoming);
  if (!arrival.ok) return <Refused lines={linesOf(arrival)} onLeave={leave} />;
  const { plan } = arrival;
  const now = state.books.find((b) => b.id === plan.person.id)?.plan;
  const verdict = planVerdict(now, plan);
  if (verdict === 'older' || verdict === 'conflict' || verdict === 'same') {
    return <Refused lines={[t(`welcome:verdict.${verdict}`, { clinic: plan.clinic.name })]} onLeave={leave} same={verdict === 'same'} />;
  }
  const accept = async () => {
    setBusy(true);
    try {
      await notebook.acceptPlan(plan);
      replace('today');
    } catch {
      setFailed(true);
      setBusy(false);
    }
  };
  return (
    <Page
      title={t(now ? 'welcome:confirmUpdate' : 'welcome:confirmNew')}
      over={plan.clinic.name}
      back={() => void leave()}
      foot={
        <>
          {failed && (
            <p class="error" role="alert">
              {t('common:notSaved')}
            </p>
          )}
          <button type="button" class="button button-main" disabled={busy} onClick={() => void accept()}>
            {t('welcome:accept')}
          </button>
          <button type="button" class="button button-quiet" onClick={() => void leave()}>
            {t('welcome:notNow')}
          </button>
        </>
      }
    >
      <p class="lead">{t('welcome:confirmWhy')}</p>
      {verdict === 'otherPlan' && (
        <p class="notice">
          <LevelMark level="callToday" />
          {t('welcome:verdict.otherPlan')}
        </p>
      )}
      {!now && state.books.length > 0 && <p class="notice">{t('welcome:newPerson', { name: plan.person.callMe })}</p>}
      <PlanFacts plan={plan} />
      {now && <Changes changes={planChanges(now, plan)} now={now} next={plan} />}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}

function PlanFacts({ plan }: { plan: Plan }) {
  return (
    <dl class="answers">
      <div>
        <dt>{t('welcome:for')}</dt>
        <dd>{plan.person.callMe}</dd>
      </div>
      <div>
        <dt>{t('welcome:from')}</dt>
        <dd>{plan.clinic.name}</dd>
      </div>
      <div>
        <dt>{t('plan:phone')}</dt>
        <dd>
          <bdi>{plan.clinic.phone}</bdi>
        </dd>
      </div>
      {plan.clinic.outOfHoursPhone && (
        <div>
          <dt>{t('plan:outOfHoursPhone')}</dt>
          <dd>
            <bdi>{plan.clinic.outOfHoursPhone}</bdi>
          </dd>
        </div>
      )}
      {plan.wounds.map((wound) => {
        const first = BANDS.map((b) => recipeFor(wound, b)).find((r) => r !== undefined);
        return (
          <div key={wound.id}>
            <dt>{woundName(wound)}</dt>
            <dd>
              {wound.keepDry ? `${t('plan:keepDry')} ` : ''}
              {first ? t('welcome:changed', { every: intervalText(first.change) }) : t('plan:callUs')}
            </dd>
          </div>
        );
      })}
      <div>
        <dt>{t('welcome:written')}</dt>
        <dd>{t('welcome:writtenOn', { day: formatDay(plan.issued, 'short'), revision: plan.revision })}</dd>
      </div>
    </dl>
  );
}

function Changes({ changes, now, next }: { changes: readonly PlanChange[]; now: Plan; next: Plan }) {
  const name = (id: string | undefined): string => {
    const wound = [...next.wounds, ...now.wounds].find((w) => w.id === id);
    return wound ? woundName(wound) : '';
  };
  return (
    <section>
      <h2>{t('welcome:whatChanges')}</h2>
      {changes.length === 0 && <p>{t('welcome:nothingChanges')}</p>}
      <ul class="facts">
        {changes.map((c) => (
          <li key={`${c.what}${c.wound ?? ''}`}>
            {t(`plan:change.${c.what}`, { wound: name(c.wound) })}
            {(c.from !== undefined || c.to !== undefined) && (
              <span class="from-to">{t('welcome:fromTo', { from: c.from ?? t('welcome:none'), to: c.to ?? t('welcome:none') })}</span>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function linesOf(arrival: Extract<PlanArrival, { ok: false }>): string[] {
  return arrival.why === 'faults' ? faultLines(arrival.faults) : [t(`welcome:fault.${arrival.why}`)];
}

/** A plan that cannot be used: why, what to do, and that the old one stays. */
function Refused({ lines, onLeave, same }: { lines: readonly string[]; onLeave: () => Promise<void>; same?: boolean }) {
  const { state } = useNotebook();
  return (
    <Page
      title={t(same ? 'welcome:sameTitle' : 'welcome:refusedTitle')}
      back={() => void onLeave()}
      foot={
        <>
          <button type="button" class="button button-main" onClick={() => void onLeave()}>
            {t(state.book ? 'common:toToday' : 'common:back')}
          </button>
          {!same && (
            <button type="button" class="button button-quiet" onClick={() => go('open')}>
              {t('welcome:tryAgain')}
            </button>
          )}
        </>
      }
    >
      <ul class="facts">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {!same && <p>{t(state.book ? 'welcome:refusedKeep' : 'welcome:refusedAsk')}</p>}
    </Page>
  );
}
