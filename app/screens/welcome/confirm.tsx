import { NotSaved } from '../../parts/not-saved.tsx';
import { acceptPlan } from '../../store/accept-plan.ts';
import './confirm.css';
import { useEffect, useState } from 'preact/hooks';
import { planChanges, planVerdict } from '../../care/plan/compare.ts';
import { likelyRecipe } from '../../care/plan/likely-recipe.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { type Arrival, arrivalFromText } from '../../exchange/plan-file.ts';
import type { PublicKey } from '../../exchange/signature.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { PlanChanges } from '../../parts/plan-changes.tsx';
import { press } from '../../parts/press.ts';
import type { Notebook } from '../../store/notebook.ts';
import { faultLines } from '../../words/faults.ts';
import { formatDay } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { intervalText, woundName } from '../../words/names.ts';
import { useNotebook } from '../context.ts';
import { takePart } from '../incoming-parts.ts';
import { go, replace } from '../route.ts';
import { knownSenders, type Standing, standingOf, trustSender } from './senders.ts';

/** What arrived, with how its sender stands to the book it is for. */
interface Opened {
  incoming: string;
  arrival: Arrival;
  standing: Standing;
}

/** Opens what arrived; undefined until the signature has been checked. */
function useOpened(notebook: Notebook, incoming: string | undefined): Opened | undefined {
  const [opened, setOpened] = useState<Opened | undefined>();
  useEffect(() => {
    if (incoming === undefined) return;
    let current = true;
    void (async () => {
      const senders = await knownSenders(notebook.shelf);
      const arrival = await arrivalFromText(incoming, [...senders.values()].flat());
      const key = arrival.ok && arrival.sender !== 'unsigned' ? arrival.key : undefined;
      const standing = arrival.ok ? standingOf(senders, arrival.plan.person.id, key) : 'unsigned';
      if (current) setOpened({ incoming, arrival, standing });
    })();
    return () => {
      current = false;
    };
  }, [notebook, incoming]);
  return opened?.incoming === incoming ? opened : undefined;
}

/** A plan that arrived is shown before it takes effect. The plan in use stays until the person agrees. */
export function ConfirmScreen() {
  const { notebook, state } = useNotebook();
  const opened = useOpened(notebook, state.incoming);
  const leave = async () => {
    await notebook.dropIncoming();
    replace(notebook.state.book ? 'today' : 'welcome');
  };
  if (state.incoming === undefined) return <Refused lines={[t('welcome:fault.nothing')]} onLeave={leave} />;
  if (!opened) return <Page title={t('common:wait')} />;
  const { arrival, standing } = opened;
  if (!arrival.ok)
    return arrival.why === 'part' ? <PartArrived part={arrival.part} /> : <Refused lines={linesOf(arrival)} onLeave={leave} />;
  const { plan } = arrival;
  const verdict = planVerdict(state.books.find((b) => b.id === plan.person.id)?.plan, plan);
  if (verdict === 'older' || verdict === 'conflict' || verdict === 'same') {
    return <Refused lines={[t(`welcome:verdict.${verdict}`, { clinic: plan.clinic.name })]} onLeave={leave} same={verdict === 'same'} />;
  }
  const key = arrival.sender === 'unsigned' ? undefined : arrival.key;
  return <Offer plan={plan} senderKey={key} standing={standing} onLeave={leave} />;
}

/** One of several codes, opened by the phone's own camera: it is kept, and the scanner takes the others. */
function PartArrived({ part }: { part: string }) {
  const { notebook } = useNotebook();
  useEffect(() => {
    void takePart(notebook.shelf, part).then(async (outcome) => {
      if (outcome.event === 'complete') return notebook.keepIncoming(outcome.text);
      await notebook.dropIncoming();
      replace('scan');
    });
  }, [notebook, part]);
  return (
    <Page title={t('common:wait')}>
      <p>{t('welcome:fault.part')}</p>
    </Page>
  );
}

interface OfferProps {
  plan: Plan;
  senderKey: PublicKey | undefined;
  standing: Standing;
  onLeave: () => Promise<void>;
}

const ACCEPT: Record<Standing, string> = {
  known: 'welcome:accept',
  unsigned: 'welcome:accept',
  first: 'welcome:sender.acceptWords',
  other: 'welcome:sender.acceptOther',
  unsignedNow: 'welcome:sender.acceptOther',
};

/** A plan that may take effect, once the person agrees. */
function Offer({ plan, senderKey, standing, onLeave }: OfferProps) {
  const { notebook, state } = useNotebook();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const checks = useCheckWords(standing === 'first' ? senderKey : undefined, plan.person.language);
  const now = state.books.find((b) => b.id === plan.person.id)?.plan;
  const accept = async () => {
    setBusy(true);
    try {
      await acceptPlan(notebook, plan);
      if (senderKey) await trustSender(notebook.shelf, plan.person.id, senderKey);
      replace('today');
    } catch {
      setFailed(true);
      setBusy(false);
    }
  };
  const warned = standing === 'other' || standing === 'unsignedNow';
  return (
    <Page
      title={t(warned ? 'welcome:sender.otherTitle' : now ? 'welcome:confirmUpdate' : 'welcome:confirmNew')}
      over={
        <>
          {warned && <LevelMark level="callNow" />}
          <bdi>{plan.person.callMe}</bdi> · <bdi>{plan.clinic.name}</bdi>
        </>
      }
      back={() => void onLeave()}
      foot={
        <>
          <NotSaved when={failed} />
          <button
            type="button"
            class={warned ? 'button button-second' : 'button button-main'}
            {...press(() => void accept(), busy || (standing === 'first' && !checks))}
          >
            {t(ACCEPT[standing])}
          </button>
          <button type="button" class={warned ? 'button button-main' : 'button button-quiet'} onClick={() => void onLeave()}>
            {t('welcome:notNow')}
          </button>
        </>
      }
    >
      {standing === 'other' && <p class="lead">{t('welcome:sender.other')}</p>}
      {standing === 'unsignedNow' && <p class="lead">{t('welcome:sender.unsigned')}</p>}
      {warned && now && <CallButton phone={now.clinic.phone} label={apart(now.clinic.name)} tone="quiet" />}
      {standing === 'first' && <CheckWords checks={checks} />}
      {plan.sample && <p class="notice">{t('common:sample')}</p>}
      <p class={warned ? undefined : 'lead'}>{t('welcome:confirmWhy')}</p>
      {planVerdict(now, plan) === 'otherPlan' && (
        <p class="notice">
          <LevelMark level="callToday" />
          {t('welcome:verdict.otherPlan')}
        </p>
      )}
      {!now && state.books.length > 0 && <p class="notice">{t('welcome:newPerson', { name: plan.person.callMe })}</p>}
      <PlanFacts plan={plan} />
      {now && <PlanChanges changes={planChanges(now, plan)} now={now} next={plan} />}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}

/** The four words that stand for a key; undefined while they are worked out. */
function useCheckWords(key: PublicKey | undefined, language: string): string[] | undefined {
  const [checks, setChecks] = useState<string[] | undefined>();
  const name = key && `${key.x}${key.y}`;
  useEffect(() => {
    if (!key) return;
    let current = true;
    void import('../../exchange/check-words.ts')
      .then(({ checkWords }) => checkWords(key, language))
      .then((found) => current && setChecks(found));
    return () => {
      current = false;
    };
  }, [name, language]);
  return checks;
}

/** On the first hand-over the person compares what the phone shows with the printed page. */
function CheckWords({ checks }: { checks: readonly string[] | undefined }) {
  return (
    <section class="notice">
      <h2>{t('welcome:sender.firstTitle')}</h2>
      <p>{t('welcome:sender.first')}</p>
      {checks ? (
        <ul class="check-words">
          {checks.map((word, i) => (
            <li key={`${word}${i}`}>
              <bdi>{word}</bdi>
            </li>
          ))}
        </ul>
      ) : (
        <p role="status">{t('common:wait')}</p>
      )}
      <p>{t('welcome:sender.firstNot')}</p>
    </section>
  );
}

function PlanFacts({ plan }: { plan: Plan }) {
  return (
    <dl class="answers">
      <div>
        <dt>{t('welcome:for')}</dt>
        <dd>
          <bdi>{plan.person.callMe}</bdi>
        </dd>
      </div>
      <div>
        <dt>{t('welcome:from')}</dt>
        <dd>
          <bdi>{plan.clinic.name}</bdi>
        </dd>
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
        const likely = likelyRecipe(wound, undefined)?.recipe;
        return (
          <div key={wound.id}>
            <dt>{woundName(wound)}</dt>
            <dd>
              {wound.keepDry ? `${t('plan:keepDry')} ` : ''}
              {likely ? t('welcome:changed', { every: intervalText(likely.change) }) : t('plan:callUs')}
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

function linesOf(arrival: Extract<Arrival, { ok: false }>): string[] {
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
          {state.book && (
            <button type="button" class="button button-main" onClick={() => void onLeave()}>
              {t('common:toToday')}
            </button>
          )}
          {!same && (
            <button type="button" class={`button ${state.book ? 'button-quiet' : 'button-main'}`} onClick={() => go('open')}>
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
      {!same && state.book && <p>{t('welcome:refusedKeep')}</p>}
      {!same && <p>{t('welcome:refusedAsk')}</p>}
    </Page>
  );
}
