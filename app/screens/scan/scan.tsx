import './scan.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { type CameraState, CodeCamera } from '../../exchange/camera.ts';
import { type Collected, missingParts } from '../../exchange/code-sequence.ts';
import { codesInPhoto } from '../../exchange/photo-codes.ts';
import { planFromText } from '../../exchange/plan-file.ts';
import { Page } from '../../parts/page.tsx';
import { useCamera } from '../../parts/use-camera.ts';
import type { Shelf } from '../../store/shelf.ts';
import { formatList, formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { forgetParts, keptParts, takePart } from '../incoming-parts.ts';
import { go, replace } from '../route.ts';

/** What the last code was, as a key for words; undefined while all is well. */
type Trouble = string | undefined;

/** What is being collected: the codes of a plan or those of another phone's log. */
interface Collecting {
  kind: 'plan' | 'log';
  parts: Collected;
}

/**
 * Takes in what comes as a code on paper or a screen: with the camera, from a
 * photo, one code or several. A plan goes to be confirmed, a log of another
 * phone to be asked about; neither takes effect here.
 * @param forLog whether the person came for a log.
 */
export function ScanScreen({ forLog = false }: { forLog?: boolean }) {
  const { notebook, state } = useNotebook();
  const [collecting, setCollecting] = useState<Collecting | undefined>();
  const [trouble, setTrouble] = useState<Trouble>();
  const handled = useRef<string | undefined>(undefined);
  const busy = useRef(false);
  /** All is in: what the camera still sees while the page turns is not for a new set. */
  const whole = useRef(false);

  useEffect(() => {
    void keptNow(notebook.shelf, forLog).then(setCollecting);
  }, [notebook, forLog]);

  const accept = async (text: string) => {
    await notebook.keepIncoming(text);
    replace('confirm');
  };
  const takePlanPart = async (text: string): Promise<Trouble> => {
    const outcome = await takePart(notebook.shelf, text);
    setCollecting(outcome.state && { kind: 'plan', parts: outcome.state });
    if (outcome.event === 'complete') await accept(outcome.text);
    return PART_TROUBLE[outcome.event];
  };
  const takeLogPart = async (text: string): Promise<Trouble> => {
    const outcome = await (await import('../incoming-log.ts')).takeLogPart(notebook.shelf, text);
    setCollecting(outcome.state && { kind: 'log', parts: outcome.state });
    whole.current = outcome.event === 'complete';
    if (whole.current) replace('take-in');
    return LOG_TROUBLE[outcome.event];
  };
  /** What to do with the text of a code. */
  const take = async (text: string): Promise<Trouble> => {
    if (LOG_CODE.test(text)) return takeLogPart(text);
    const arrival = planFromText(text);
    if (arrival.ok || arrival.why === 'signed') {
      await accept(text);
      return undefined;
    }
    return arrival.why === 'part' ? takePlanPart(arrival.part) : (TROUBLE_OF[arrival.why] ?? 'welcome:scan.fault.wrong');
  };
  const camera = useCamera<CameraState>(
    (tell, onText) => new CodeCamera(tell, onText),
    'starting',
    (text) => {
      // The same code stays in the picture for a while; it is looked at once.
      if (text === handled.current || busy.current || whole.current) return;
      handled.current = text;
      busy.current = true;
      void take(text)
        .then(setTrouble, () => setTrouble('common:notSaved'))
        .finally(() => {
          busy.current = false;
        });
    },
  );
  const onPhotos = async (files: FileList | null) => {
    for (const file of files ?? []) {
      const reading = await codesInPhoto(file);
      if (!reading.ok) return setTrouble(`welcome:scan.fault.${reading.why}`);
      if (reading.texts.length === 0) return setTrouble('welcome:scan.fault.noCode');
      for (const text of reading.texts) setTrouble(await take(text).catch(() => 'common:notSaved'));
    }
  };
  const startOver = async () => {
    handled.current = undefined;
    setTrouble(undefined);
    if (collecting?.kind === 'log') await (await import('../incoming-log.ts')).forgetLogParts(notebook.shelf);
    else await forgetParts(notebook.shelf);
    setCollecting(undefined);
  };
  const off = camera.state !== 'looking' && camera.state !== 'starting';
  const shown = trouble ?? (off ? faultOf(camera.state, forLog) : undefined);
  return (
    <Page
      title={t(forLog ? 'keep:scan.title' : 'welcome:scan.title')}
      back={() => go(forLog ? 'phones' : state.book ? 'open' : 'welcome')}
      class="scan"
      foot={
        <>
          <label class="button button-second file">
            {t('welcome:scan.photo')}
            <input
              type="file"
              accept="image/*"
              multiple
              onChange={(event) => {
                const input = event.currentTarget;
                // Emptied afterwards, so that the same photo can be chosen again.
                void onPhotos(input.files).finally(() => {
                  input.value = '';
                });
              }}
            />
          </label>
          {!forLog && (
            <button type="button" class="button button-quiet" onClick={() => go('open')}>
              {t('welcome:scan.paste')}
            </button>
          )}
        </>
      }
    >
      <p class="lead">{t(forLog ? 'keep:scan.how' : 'welcome:scan.how')}</p>
      {!off && <video ref={camera.video} class="viewfinder" playsInline muted aria-label={t('welcome:scan.camera')} />}
      {shown && (
        <p class="error" role="alert">
          {t(shown)}
        </p>
      )}
      {off && (
        <button type="button" class="button button-second" onClick={camera.again}>
          {t('welcome:scan.again')}
        </button>
      )}
      {camera.state === 'looking' && !trouble && !collecting && <p role="status">{t('welcome:scan.looking')}</p>}
      {collecting && <Progress parts={collecting.parts} onForget={() => void startOver()} />}
    </Page>
  );
}

/** Why a code was no plan. Others than these are codes of another kind. */
const TROUBLE_OF: Partial<Record<string, string>> = {
  damaged: 'welcome:fault.damaged',
  newerVersion: 'welcome:fault.newerVersion',
};
const PART_TROUBLE: Partial<Record<string, string>> = {
  notAPart: 'welcome:scan.fault.wrong',
  foreign: 'welcome:scan.fault.foreign',
  damaged: 'welcome:scan.fault.damaged',
  repeat: 'welcome:scan.fault.repeat',
};

/** Codes that turn by themselves come by again and again, so a repeat is no trouble. */
const LOG_TROUBLE: Partial<Record<string, string>> = {
  notAPart: 'keep:scan.fault.damaged',
  foreign: 'keep:scan.fault.foreign',
  damaged: 'welcome:scan.fault.damaged',
};

/** Why there is no picture. A log has no link to paste instead. */
const faultOf = (state: string, forLog: boolean): string =>
  forLog && state === 'noCamera' ? 'keep:scan.fault.noCamera' : `welcome:scan.fault.${state}`;

/** A code of a log, as a link or bare: enough to send it the right way; what it holds is looked at there. */
const LOG_CODE = /#log=|^l\d{14,}$/;

/** What was collected before and is not whole yet. */
async function keptNow(shelf: Shelf, forLog: boolean): Promise<Collecting | undefined> {
  const parts = forLog ? await (await import('../incoming-log.ts')).keptLogParts(shelf) : await keptParts(shelf);
  return parts && { kind: forLog ? 'log' : 'plan', parts };
}

/** How much of a set is in. It stays until it is whole or the person starts over. */
function Progress({ parts, onForget }: { parts: Collected; onForget: () => void }) {
  const missing = missingParts(parts);
  const found = parts.count - missing.length;
  return (
    <>
      <p role="status" class="strong">
        {t('welcome:scan.progress', { found: formatNumber(found), count: parts.count })}
      </p>
      <p>{t('welcome:scan.missing', { numbers: formatList(missing.map((n) => formatNumber(n))) })}</p>
      <button type="button" class="button button-quiet" onClick={onForget}>
        {t('welcome:scan.forget')}
      </button>
    </>
  );
}
