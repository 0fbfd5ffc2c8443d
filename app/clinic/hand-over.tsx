import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Plan } from '../care/plan/plan.ts';
import { checkWords } from '../exchange/check-words.ts';
import { signPlan } from '../exchange/envelope.ts';
import { fileName } from '../exchange/file-name.ts';
import { planLink, signedToFile } from '../exchange/plan-file.ts';
import { type Code, codesFor } from '../exchange/qr-write.ts';
import type { ClinicKeys } from '../exchange/signature.ts';
import { press } from '../parts/press.ts';
import { t } from '../words/i18n.ts';
import { CodePicture } from './code-picture.tsx';
import { KeysForm } from './keys-form.tsx';
import { openPaper } from './paper-link.ts';
import { save } from './save.ts';

/** Where the patient's app is: beside the desk. */
const appAddress = (): string => new URL('./', location.href).href;

interface Signed {
  json: string;
  jws: string;
  /** Undefined when the plan needs more codes than anybody would scan. */
  codes: Code[] | undefined;
  words: string[];
}

interface Props {
  plan: Plan | undefined;
  /** Why it cannot be handed over, as sentences; none when it can. */
  stops: readonly string[];
  /** Handed over before and changed since: its code is shown only when asked for, or every letter typed would be a version. */
  changed: boolean;
  keys: ClinicKeys | undefined;
  onKeys: (keys: ClinicKeys) => void;
  /** The plan left the desk in one of the four ways. */
  onHanded: () => void;
  onSaved: () => void;
}

/** The four ways out: code on screen, paper, link, file. Closed while a finding stops. */
export function HandOver({ plan, stops, changed, keys, onKeys, onHanded, onSaved }: Props) {
  const signed = useSigned(stops.length === 0 ? plan : undefined, keys);
  return (
    <section class="hand-over" aria-labelledby="hand-over-title">
      <h2 id="hand-over-title">{t('clinic:hand.title')}</h2>
      {plan && <p class="for-whom">{forWhom(plan)}</p>}
      {stops.length > 0 && (
        <div class="stopped">
          <p>
            <strong>{t('clinic:hand.stopped')}</strong>
          </p>
          <ul>
            {stops.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </div>
      )}
      {stops.length === 0 && !keys && <KeysForm onKeys={onKeys} />}
      {keys && plan && (
        <Ways plan={plan} signed={signed} stopped={stops.length > 0} changed={changed} onHanded={onHanded} onSaved={onSaved} />
      )}
    </section>
  );
}

const forWhom = ({ person, revision }: Plan): string => t('clinic:hand.forWhom', { name: person.callMe, revision });

/** The plan signed, anew whenever it changes. */
function useSigned(plan: Plan | undefined, keys: ClinicKeys | undefined): Signed | undefined {
  const [signed, setSigned] = useState<Signed | undefined>();
  const json = plan && keys ? JSON.stringify(plan) : undefined;
  useEffect(() => {
    if (json === undefined || !plan || !keys) return setSigned(undefined);
    let current = true;
    void (async () => {
      const jws = await signPlan(plan, keys);
      const words = await checkWords(keys.publicKey, plan.person.language);
      if (current) setSigned({ json, jws, codes: codesFor(jws, appAddress()), words });
    })();
    return () => {
      current = false;
    };
  }, [json, keys]);
  return signed?.json === json ? signed : undefined;
}

interface WaysProps {
  plan: Plan;
  signed: Signed | undefined;
  stopped: boolean;
  changed: boolean;
  onHanded: () => void;
  onSaved: () => void;
}

function Ways({ plan, signed, stopped, changed, onHanded, onSaved }: WaysProps) {
  const [copied, setCopied] = useState<'yes' | 'no' | undefined>();
  // What was copied is another plan by now.
  useEffect(() => setCopied(undefined), [signed]);
  const off = stopped || !signed;
  const link = signed && planLink(signed.jws, appAddress());
  const copy = async () => {
    if (!link) return;
    onHanded();
    await navigator.clipboard.writeText(link).then(
      () => setCopied('yes'),
      () => setCopied('no'),
    );
  };
  const file = () => {
    if (!signed) return;
    save(fileName('plan', plan.person.callMe, plan.revision, 'json'), signedToFile(signed.jws));
    setCopied(undefined);
    onHanded();
    onSaved();
  };
  const paper = () => {
    if (!signed) return;
    setCopied(undefined);
    onHanded();
    openPaper({ plan, codes: signed.codes?.map((c) => c.text) ?? [], words: signed.words, address: appAddress() });
  };
  return (
    <>
      {!stopped && changed && (
        <div class="stopped" role="status">
          <p>
            <strong>{t('clinic:hand.changed', { revision: plan.revision })}</strong>
          </p>
          <button type="button" class="act" disabled={off} onClick={onHanded}>
            {t('clinic:hand.again', { revision: plan.revision })}
          </button>
        </div>
      )}
      {!stopped && !changed && (signed ? <Codes plan={plan} signed={signed} onShown={onHanded} /> : <p>{t('common:wait')}</p>)}
      <div class="ways">
        <button type="button" class="act" disabled={off} onClick={paper}>
          {t('clinic:hand.paper')}
        </button>
        <button type="button" class="small" disabled={off} onClick={() => void copy()}>
          {t('clinic:hand.link')}
        </button>
        <button type="button" class="small" disabled={off} onClick={file}>
          {t('clinic:hand.file')}
        </button>
      </div>
      {copied === 'yes' && <p role="status">{t('clinic:hand.copied')}</p>}
      {copied === 'no' && (
        <div role="status">
          <p>{t('clinic:hand.notCopied')}</p>
          <textarea class="link-text" readOnly aria-label={t('clinic:hand.link')} value={link} onFocus={(e) => e.currentTarget.select()} />
        </div>
      )}
      <p class="f-hint">{t('clinic:hand.fileHint')}</p>
      <p class="f-hint">{t('clinic:hand.health')}</p>
    </>
  );
}

/** The code or codes, one after the other; over the whole screen where a phone is to read them. */
function Codes({ plan, signed, onShown }: { plan: Plan; signed: Signed; onShown: () => void }) {
  const [at, setAt] = useState(0);
  const large = useRef<HTMLDialogElement>(null);
  const { codes, words } = signed;
  useEffect(() => setAt(0), [signed]);
  // With the picture, not after it: a phone may have read it by the time an edit comes.
  useLayoutEffect(() => {
    if (codes) onShown();
  }, [signed]);
  if (!codes) return <p class="error">{t('clinic:hand.tooLarge')}</p>;
  const code = codes[Math.min(at, codes.length - 1)] as Code;
  const label = codes.length === 1 ? t('clinic:hand.code') : t('clinic:hand.codeOf', { at: at + 1, of: codes.length });
  const figure = (
    <figure class="code-figure">
      <CodePicture code={code} label={label} />
      <figcaption>
        {label}
        <br />
        {forWhom(plan)}
      </figcaption>
    </figure>
  );
  const turn = codes.length > 1 && (
    <>
      <button type="button" class="small" {...press(() => setAt(at - 1), at === 0)}>
        {t('clinic:hand.before')}
      </button>
      <button type="button" class="small" {...press(() => setAt(at + 1), at === codes.length - 1)}>
        {t('clinic:hand.after')}
      </button>
    </>
  );
  return (
    <>
      <p>{t(codes.length === 1 ? 'clinic:hand.scan' : 'clinic:hand.scanAll')}</p>
      {figure}
      <div class="turn">
        {turn}
        <button type="button" class="small" onClick={() => large.current?.showModal()}>
          {t('clinic:hand.large')}
        </button>
      </div>
      <dialog ref={large} class="code-large" aria-label={label}>
        {figure}
        <div class="turn">
          {turn}
          <button type="button" class="small" onClick={() => large.current?.close()}>
            {t('clinic:hand.close')}
          </button>
        </div>
      </dialog>
      <p>{t('clinic:hand.words')}</p>
      <p class="check-words">{words.join(' · ')}</p>
    </>
  );
}
