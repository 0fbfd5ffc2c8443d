import './scan.css';
import { useEffect, useRef, useState } from 'preact/hooks';
import { type Collected, missingParts } from '../../exchange/code-sequence.ts';
import { planFromText } from '../../exchange/plan-file.ts';
import { Page } from '../../parts/page.tsx';
import { formatList, formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { forgetParts, keptParts, takePart } from '../incoming-parts.ts';
import { go, replace } from '../route.ts';
import { useCamera } from './camera.ts';
import { readPhoto } from './photo.ts';

/** What the last code was, as a key for words; undefined while all is well. */
type Trouble = string | undefined;

/** Takes a plan in from a code on paper or a screen: with the camera, from a photo, one code or several. */
export function ScanScreen() {
  const { notebook, state } = useNotebook();
  const [parts, setParts] = useState<Collected | undefined>();
  const [trouble, setTrouble] = useState<Trouble>();
  const handled = useRef<string | undefined>(undefined);
  const busy = useRef(false);

  useEffect(() => {
    void keptParts(notebook.shelf).then(setParts);
  }, [notebook]);

  const accept = async (text: string) => {
    await notebook.keepIncoming(text);
    replace('confirm');
  };
  /** What to do with the text of a code. */
  const take = async (text: string): Promise<Trouble> => {
    const arrival = planFromText(text);
    if (arrival.ok || arrival.why === 'signed') {
      await accept(text);
      return undefined;
    }
    if (arrival.why !== 'part') return TROUBLE_OF[arrival.why] ?? 'welcome:scan.fault.wrong';
    const outcome = await takePart(notebook.shelf, arrival.part);
    setParts(outcome.event === 'complete' ? undefined : outcome.state);
    if (outcome.event === 'complete') await accept(outcome.text);
    return PART_TROUBLE[outcome.event];
  };
  const camera = useCamera((text) => {
    // The same code stays in the picture for a while; it is looked at once.
    if (text === handled.current || busy.current) return;
    handled.current = text;
    busy.current = true;
    void take(text)
      .then(setTrouble, () => setTrouble('common:notSaved'))
      .finally(() => {
        busy.current = false;
      });
  });
  const onPhotos = async (files: FileList | null) => {
    for (const file of files ?? []) {
      const reading = await readPhoto(file);
      if (!reading.ok) return setTrouble(`welcome:scan.fault.${reading.why}`);
      if (reading.texts.length === 0) return setTrouble('welcome:scan.fault.noCode');
      for (const text of reading.texts) setTrouble(await take(text).catch(() => 'common:notSaved'));
    }
  };
  const forget = () => {
    handled.current = undefined;
    setTrouble(undefined);
    void forgetParts(notebook.shelf).then(() => setParts(undefined));
  };
  const off = camera.state !== 'looking' && camera.state !== 'starting';
  const shown = trouble ?? (off ? `welcome:scan.fault.${camera.state}` : undefined);
  return (
    <Page
      title={t('welcome:scan.title')}
      back={() => go(state.book ? 'open' : 'welcome')}
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
          <button type="button" class="button button-quiet" onClick={() => go('open')}>
            {t('welcome:scan.paste')}
          </button>
        </>
      }
    >
      <p class="lead">{t('welcome:scan.how')}</p>
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
      {camera.state === 'looking' && !trouble && !parts && <p role="status">{t('welcome:scan.looking')}</p>}
      {parts && <Progress parts={parts} onForget={forget} />}
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
