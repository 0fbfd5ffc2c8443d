import { useEffect, useRef, useState } from 'preact/hooks';
import { clinicHours } from '../../care/escalation/who-to-call.ts';
import { emergencyNumbersFor } from '../../care/plan/emergency-numbers.ts';
import type { Clinic } from '../../care/plan/plan.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { SecretField, ShowLetters } from '../../parts/secret-field.tsx';
import { eraseEverything } from '../../store/erase.ts';
import type { Front } from '../../store/front.ts';
import type { Unlocking } from '../../store/lock.ts';
import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { wishedRegion } from '../region.ts';
import { Erase } from './erase.tsx';

interface Props {
  front: Front;
  /** ms. */
  now: () => number;
  unlock: (passcode: string) => Promise<Unlocking>;
  onOpened: () => void;
}

/** A locked phone: the passcode, and whom to call, which needs none and stands first while a call is open. */
export function LockScreen({ front, now, unlock, onOpened }: Props) {
  const [passcode, setPasscode] = useState('');
  const [shown, setShown] = useState(false);
  const [fault, setFault] = useState<string>();
  const [busy, setBusy] = useState(false);
  const [forgotten, setForgotten] = useState(false);
  const wait = useWait(now);
  const field = useRef<HTMLFormElement>(null);

  const open = async () => {
    setBusy(true);
    setFault(undefined);
    try {
      const outcome = await unlock(passcode);
      if (outcome.opened) return onOpened();
      if (outcome.why === 'erase') return void eraseEverything().finally(() => location.reload());
      if (outcome.why === 'wait') wait.until(now() + outcome.waitMs);
      else setFault(t('lock:wrong'));
      setPasscode('');
      field.current?.querySelector('input')?.focus();
    } catch {
      setFault(t('lock:broken'));
    }
    setBusy(false);
  };

  if (forgotten) return <Forgotten front={front} now={now()} onBack={() => setForgotten(false)} />;
  return (
    <Page
      title={t('lock:title')}
      noHelp
      class="lock"
      foot={
        <button type="submit" form="unlock" class="button button-main" disabled={busy || wait.seconds > 0 || passcode === ''}>
          {t('lock:open')}
        </button>
      }
    >
      {front.openAlert && (
        <>
          <p class="notice lock-alert">
            <LevelMark level={front.openAlert} /> <span>{t('lock:alertOpen')}</span>
          </p>
          <EmergencyNumbers front={front} />
          {front.openAlert !== 'emergency' && <ClinicNumbers front={front} now={now()} />}
        </>
      )}
      <form
        id="unlock"
        ref={field}
        onSubmit={(event) => {
          event.preventDefault();
          void open();
        }}
      >
        <SecretField
          label={t('lock:passcode')}
          value={passcode}
          shown={shown}
          error={wait.seconds > 0 ? t('lock:wait', { seconds: formatNumber(wait.seconds, 0) }) : fault}
          onChange={setPasscode}
        />
        <ShowLetters label={t('lock:show')} shown={shown} onChange={setShown} />
      </form>
      {!front.openAlert && <EmergencyNumbers front={front} />}
      {(!front.openAlert || front.openAlert === 'emergency') && <ClinicNumbers front={front} now={now()} />}
      <button type="button" class="button button-quiet" onClick={() => setForgotten(true)}>
        {t('lock:forgotten')}
      </button>
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}

/** Counts the seconds of a pause down, so that it is seen to end. */
function useWait(now: () => number) {
  const [end, setEnd] = useState(0);
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    if (end === 0) return;
    const look = () => setSeconds(Math.max(0, Math.ceil((end - now()) / 1000)));
    look();
    const timer = setInterval(look, 500);
    return () => clearInterval(timer);
  }, [end]);
  return { seconds, until: setEnd };
}

function EmergencyNumbers({ front }: { front: Front }) {
  const numbers = [
    ...new Set(
      front.clinics.some((c) => c.emergencyNumber)
        ? front.clinics.flatMap((c) => c.emergencyNumber ?? [])
        : emergencyNumbersFor(front.settings.region ?? wishedRegion()),
    ),
  ];
  return (
    <section class="stack" aria-label={t('common:helpNow')}>
      {numbers.map((phone) => (
        <CallButton key={phone} phone={phone} label={t('alert:call.emergency')} tone="grave" />
      ))}
    </section>
  );
}

const ClinicNumbers = ({ front, now }: { front: Front; now: number }) => (
  <>
    {front.clinics.map((clinic) => (
      <ClinicPhones key={`${clinic.name}${clinic.phone}`} clinic={clinic} now={now} />
    ))}
  </>
);

function ClinicPhones({ clinic, now }: { clinic: Clinic; now: number }) {
  const { open } = clinicHours(clinic, now);
  return (
    <section>
      <h2>
        <bdi>{clinic.name}</bdi>
      </h2>
      <p>{t(open ? 'alert:help.open' : 'alert:help.closed')}</p>
      <div class="stack">
        <CallButton phone={clinic.phone} label={t('alert:call.clinic')} tone="quiet" />
        {clinic.outOfHoursPhone && <CallButton phone={clinic.outOfHoursPhone} label={t('alert:call.outOfHours')} tone="quiet" />}
      </div>
    </section>
  );
}

/** What a forgotten passcode means, and the one way on. */
function Forgotten({ front, now, onBack }: { front: Front; now: number; onBack: () => void }) {
  const [erasing, setErasing] = useState(false);
  if (erasing) return <Erase onBack={() => setErasing(false)} />;
  return (
    <Page
      title={t('lock:forgottenTitle')}
      back={onBack}
      noHelp
      foot={
        <>
          <button type="button" class="button button-main" onClick={onBack}>
            {t('lock:tryAgain')}
          </button>
          <button type="button" class="button button-quiet" onClick={() => setErasing(true)}>
            {t('lock:eraseStart')}
          </button>
        </>
      }
    >
      <p class="lead">{t('lock:forgottenText')}</p>
      <p>{t('lock:forgottenCopy')}</p>
      <p>{t('lock:forgottenClinic', { count: front.clinics.length })}</p>
      <EmergencyNumbers front={front} />
      <ClinicNumbers front={front} now={now} />
    </Page>
  );
}
