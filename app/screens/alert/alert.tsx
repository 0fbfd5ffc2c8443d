import { useState } from 'preact/hooks';
import { judgeStanding } from '../../care/escalation/judge.ts';
import { graver } from '../../care/escalation/levels.ts';
import { type AlertRecord, OUTCOMES, type OutcomeCode } from '../../care/log/records.ts';
import { type AlertState, alertStates } from '../../care/log/timeline.ts';
import { LevelMark } from '../../parts/level.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { formatNearDay, formatTime, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { CallAction } from '../call-action.tsx';
import { useBook, useNow } from '../context.ts';
import { woundsDue } from '../due.ts';
import { go, replace } from '../route.ts';
import { settingOf } from '../sitting.ts';
import { slipOf } from '../take-back.ts';
import { type Told, toldNow } from '../told.ts';
import { leadText, unansweredText } from './rule-text.ts';
import { SayOnThePhone } from './say.tsx';
import { type OutcomeRecord, Tell } from './tell.tsx';

/** An alert: what to do, why, whom to call, what to say, what came of it. */
export function AlertScreen({ id }: { id: string }) {
  const { notebook, state } = useBook();
  useNow(notebook);
  const found = alertStates(state.entries).find((s) => s.alert.id === id);
  const [telling, setTelling] = useState<OutcomeCode | OutcomeRecord | undefined>();
  if (!found) {
    return (
      <Page title={t('alert:gone')} back={() => go('today')}>
        <p>{t('alert:goneText')}</p>
      </Page>
    );
  }
  const { alert, closed, outcomes } = found;
  // Left unanswered too long, an alert gets graver.
  const waited = closed ? undefined : judgeStanding(settingOf(notebook)).fired.find((r) => r.rule === 'unresolved');
  const level = waited ? (graver(alert.told, waited.level) as AlertRecord['told']) : alert.told;
  const now = toldNow(notebook, alert, level);
  const { title, level: told, call } = now;
  if (telling) return <Tell alert={alert} told={now} about={telling} onBack={() => setTelling(undefined)} />;
  // A call to the clinic of which no word is written down yet.
  const last = outcomes.at(-1);
  const bare = closed && last?.what === 'reached' && !last.said ? last : undefined;
  return (
    <Page
      title={closed ? t('alert:closedTitle') : title}
      over={<LevelMark level={closed ? 'carryOn' : told} />}
      class={closed ? 'alert' : `alert alert-${told}`}
      back={() => go('today')}
      foot={closed ? <ClosedFoot bare={bare} onWrite={setTelling} /> : call.to !== 'department' && <CallAction call={call} level={told} />}
    >
      {closed ? <p class="lead">{t(bare ? 'alert:closedBare' : 'alert:closedText')}</p> : <WhatToDo now={now} outcomes={outcomes} />}
      <h2>{t('alert:why')}</h2>
      <Reasons fired={waited ? [waited, ...alert.fired] : alert.fired} />
      {!closed && <SayOnThePhone alert={alert} />}
      {!closed && <WhatHappened emergency={alert.told === 'emergency'} onTell={setTelling} />}
      <SoFar outcomes={outcomes} />
      <Slip found={found} />
      <GoOn alert={alert} told={told} />
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}

/** At the foot of an alert that is closed: what they said, if it is still to be written down, and back. */
function ClosedFoot({ bare, onWrite }: { bare: OutcomeRecord | undefined; onWrite: (outcome: OutcomeRecord) => void }) {
  return (
    <>
      {bare && (
        <button type="button" class="button button-main" onClick={() => onWrite(bare)}>
          {t('alert:adviceWrite')}
        </button>
      )}
      <button type="button" class={`button ${bare ? 'button-quiet' : 'button-main'}`} onClick={() => go('today')}>
        {t('common:toToday')}
      </button>
    </>
  );
}

/** Back to what the alert broke off, or on to a change that is due. */
function GoOn({ alert, told }: { alert: AlertRecord; told: Told['level'] }) {
  const { notebook, state } = useBook();
  const due = woundsDue(notebook)[0];
  return (
    <>
      {told === 'callToday' && due && !state.changeDraft && (
        <button type="button" class="button button-quiet" onClick={() => go('change', due.id)}>
          {t('today:startChange')}
        </button>
      )}
      {state.checkDraft?.id === alert.from && (
        <button type="button" class="button button-quiet" onClick={() => go('check')}>
          {t('today:goOnCheck')}
        </button>
      )}
      {state.changeDraft && (
        <button type="button" class="button button-quiet" onClick={() => go('change', state.changeDraft?.wound ?? '')}>
          {t('today:goOnChange')}
        </button>
      )}
    </>
  );
}

function WhatToDo({ now, outcomes }: { now: Told; outcomes: AlertState['outcomes'] }) {
  const { notebook } = useBook();
  const { level, department } = now;
  if (department) return <p class="department">{t(department === 'noAnswer' ? 'alert:noAnswer' : 'alert:department')}</p>;
  const failed = outcomes.some((o) => o.what === 'couldNotReach');
  return (
    <>
      <p class="lead">{failed ? unansweredText(notebook, now) : leadText(notebook, now)}</p>
      {level === 'emergency' && <p>{t('alert:orLocal')}</p>}
    </>
  );
}

/** In an emergency the first thing that may have happened is that the number was called. */
const outcomesFor = (emergency: boolean): readonly OutcomeCode[] => OUTCOMES.filter((what) => emergency || what !== 'calledEmergency');

function WhatHappened({ emergency, onTell }: { emergency: boolean; onTell: (what: OutcomeCode) => void }) {
  return (
    <section>
      <h2>{t('alert:whatHappened')}</h2>
      <p>{t('alert:whatHappenedWhy')}</p>
      <div class="stack">
        {outcomesFor(emergency).map((what) => (
          <button key={what} type="button" class="button button-second" onClick={() => onTell(what)}>
            {t(`alert:outcome.${what}`)}
          </button>
        ))}
      </div>
    </section>
  );
}

/** A slip of the finger can be taken back for a few minutes. */
function Slip({ found }: { found: AlertState }) {
  const { notebook } = useBook();
  const [failed, setFailed] = useState(false);
  const takeBack = slipOf(notebook, found);
  if (!takeBack) return null;
  return (
    <>
      <NotSaved when={failed} />
      <button
        type="button"
        class="button button-quiet"
        onClick={() =>
          takeBack().then(
            (place) => replace(place),
            () => setFailed(true),
          )
        }
      >
        {t('alert:wrongAnswer')}
      </button>
    </>
  );
}

/** What came of it until now. */
function SoFar({ outcomes }: { outcomes: AlertState['outcomes'] }) {
  const { notebook } = useBook();
  if (outcomes.length === 0) return null;
  return (
    <section>
      <h2>{t('alert:soFar')}</h2>
      <ul class="facts">
        {outcomes.map((o) => (
          <li key={o.id}>
            {inARow([t(`alert:outcome.${o.what}`), `${formatNearDay(o.day, notebook.today())} ${formatTime(o.at, o.zone)}`])}
            {o.said && (
              <q class="said" dir="auto">
                {o.said}
              </q>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
