import './lock.css';
import { useEffect, useState } from 'preact/hooks';
import { Choices } from '../../parts/choice.tsx';
import { Page } from '../../parts/page.tsx';
import { SecretField, ShowLetters } from '../../parts/secret-field.tsx';
import {
  changePasscode,
  ERASE_AFTER,
  type Lock,
  PASSCODE_LEAST,
  readLock,
  removePasscode,
  setLockOptions,
  setPasscode,
} from '../../store/lock.ts';
import { storedLock } from '../../store/shelf.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { go } from '../route.ts';
import { lockWhenIdle } from './auto-lock.ts';
import { Erase } from './erase.tsx';

/** Minutes without use after which the app may lock itself. */
const AFTER = [1, 5, 15, 60] as const;
type Act = 'overview' | 'set' | 'change' | 'remove' | 'options';

/** The passcode: to set one, change it, take it away, and when the app locks itself. */
export function PasscodeScreen() {
  const { notebook } = useNotebook();
  const [lock, setLock] = useState<Lock | 'none' | 'reading'>('reading');
  const [act, setAct] = useState<Act>('overview');
  const [done, setDone] = useState<string>();
  const look = () => void storedLock(notebook.shelf).then((value) => setLock(readLock(value) ?? 'none'));
  useEffect(look, [notebook]);
  const back = (what?: string) => {
    setDone(what);
    setAct('overview');
    look();
  };
  if (lock === 'reading') return <Page title={t('lock:pageTitle')} back={() => go('settings')} />;
  if (act === 'options' && lock !== 'none') return <Options lock={lock} onBack={back} />;
  if (act !== 'overview') return <Codes act={act as 'set' | 'change' | 'remove'} onBack={back} />;
  return <Overview lock={lock === 'none' ? undefined : lock} done={done} onAct={setAct} />;
}

function Overview({ lock, done, onAct }: { lock: Lock | undefined; done: string | undefined; onAct: (act: Act) => void }) {
  return (
    <Page
      title={t('lock:pageTitle')}
      back={() => go('settings')}
      foot={
        lock ? (
          <>
            <button type="button" class="button button-main" onClick={() => location.reload()}>
              {t('lock:lockNow')}
            </button>
            <button type="button" class="button button-second" onClick={() => onAct('change')}>
              {t('lock:change')}
            </button>
            <button type="button" class="button button-quiet" onClick={() => onAct('remove')}>
              {t('lock:remove')}
            </button>
          </>
        ) : (
          <button type="button" class="button button-main" onClick={() => onAct('set')}>
            {t('lock:set')}
          </button>
        )
      }
    >
      {done && <p role="status">{t(done)}</p>}
      <p class="lead">{t(lock ? 'lock:isOn' : 'lock:isOff')}</p>
      <p>{t('lock:what')}</p>
      <p>{t('lock:whatNot')}</p>
      {lock && (
        <button type="button" class="button button-second" onClick={() => onAct('options')}>
          {t('lock:options')}
        </button>
      )}
    </Page>
  );
}

function Options({ lock, onBack }: { lock: Lock; onBack: (done?: string) => void }) {
  const { notebook } = useNotebook();
  const [after, setAfter] = useState(lock.after);
  const [erase, setErase] = useState(lock.eraseAfter !== undefined);
  const [failed, setFailed] = useState(false);
  const save = async () => {
    try {
      await setLockOptions(notebook.shelf, { after, eraseAfter: erase ? ERASE_AFTER : undefined });
      onBack('lock:optionsSaved');
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('lock:options')}
      back={() => onBack()}
      foot={
        <>
          {failed && (
            <p class="error" role="alert">
              {t('common:notSaved')}
            </p>
          )}
          <button type="button" class="button button-main" onClick={() => void save()}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <h2>{t('lock:after')}</h2>
      <Choices
        legend={t('lock:after')}
        choices={AFTER.map((minutes) => ({ value: String(minutes), label: t('lock:minutes', { count: minutes }) }))}
        chosen={[String(after)]}
        onChange={([value]) => setAfter(Number(value))}
      />
      <h2>{t('lock:eraseAfterTitle')}</h2>
      <Choices
        legend={t('lock:eraseAfterTitle')}
        choices={[
          { value: 'never', label: t('lock:eraseAfter.never') },
          { value: 'erase', label: t('lock:eraseAfter.erase', { count: ERASE_AFTER }) },
        ]}
        chosen={[erase ? 'erase' : 'never']}
        onChange={([value]) => setErase(value === 'erase')}
      />
      {erase && (
        <div class="notice">
          <p>{t('lock:eraseAfterCopy')}</p>
          <a class="button button-second" href="#/keep">
            {t('lock:makeCopy')}
          </a>
        </div>
      )}
    </Page>
  );
}

/** Typing passcodes: a new one twice, the old one to change or take it away. */
function Codes({ act, onBack }: { act: 'set' | 'change' | 'remove'; onBack: (done?: string) => void }) {
  const { notebook, state } = useNotebook();
  const [old, setOld] = useState('');
  const [next, setNext] = useState('');
  const [again, setAgain] = useState('');
  const [fault, setFault] = useState<string>();
  const [busy, setBusy] = useState(false);
  const [shown, setShown] = useState(false);
  const isNew = act !== 'remove';

  const run = async (): Promise<boolean> => {
    const { shelf, device } = notebook;
    if (act === 'remove') return removePasscode(shelf, old);
    if (act === 'change') return changePasscode(shelf, old, next);
    await setPasscode(shelf, next, device.newId());
    lockWhenIdle(shelf, device.now, () => location.reload());
    // Writes what the locked screen shows, and makes other tabs lock.
    await notebook.saveSettings({ language: state.settings.language });
    return true;
  };
  const save = async () => {
    if (isNew && next.length < PASSCODE_LEAST) return setFault('short');
    if (isNew && next !== again) return setFault('differ');
    setBusy(true);
    try {
      if (await run()) return onBack(`lock:done.${act}`);
      setFault('old');
    } catch {
      setFault('store');
    }
    setBusy(false);
  };
  const faultAt = (...where: string[]): string | undefined => (fault && where.includes(fault) ? t(`lock:fault.${fault}`) : undefined);

  return (
    <Page
      title={t(`lock:${act}`)}
      back={() => onBack()}
      foot={
        <>
          {fault === 'store' && (
            <p class="error" role="alert">
              {t('lock:fault.store')}
            </p>
          )}
          {busy && <p role="status">{t('common:wait')}</p>}
          <button type="button" class="button button-main" disabled={busy} onClick={() => void save()}>
            {t(`lock:${act}`)}
          </button>
        </>
      }
    >
      {act === 'set' && (
        <div class="notice">
          <p>{t('lock:forgottenText')}</p>
          <a class="button button-second" href="#/keep">
            {t('lock:makeCopy')}
          </a>
        </div>
      )}
      {act !== 'set' && <SecretField label={t('lock:oldCode')} value={old} shown={shown} error={faultAt('old')} onChange={setOld} />}
      {isNew && (
        <>
          <SecretField
            label={t('lock:newCode')}
            hint={t('lock:newHint', { count: PASSCODE_LEAST })}
            value={next}
            shown={shown}
            isNew
            error={faultAt('short')}
            onChange={setNext}
          />
          <SecretField label={t('lock:newAgain')} value={again} shown={shown} isNew error={faultAt('differ')} onChange={setAgain} />
        </>
      )}
      <ShowLetters label={t('lock:show')} shown={shown} onChange={setShown} />
    </Page>
  );
}

/** Erasing everything, from the settings. */
export function EraseScreen() {
  return (
    <Erase
      onBack={() => go('settings')}
      copy={
        <a class="button button-second" href="#/keep">
          {t('lock:makeCopy')}
        </a>
      }
    />
  );
}
