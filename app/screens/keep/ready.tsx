import { useState } from 'preact/hooks';
import { Page } from '../../parts/page.tsx';
import { formatBytes } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { go } from '../route.ts';
import { save } from '../save-file.ts';
import { canShare, share } from '../share-file.ts';

interface Props {
  title: string;
  text: string;
  /** The name of the file; it ends in `.txt`, which every share sheet takes. */
  name: string;
  file: Blob;
  /** Called once the file has left the app. */
  onGone: () => void;
  back: string;
}

/** A file that is ready: to the share sheet, or into the downloads. */
export function Ready({ title, text, name, file, onGone, back }: Props) {
  const [told, setTold] = useState<'sent' | 'saved' | 'failed' | undefined>();
  const inHand = { name, type: 'text/plain', content: file };
  const shares = canShare([inHand]);
  const gone = (how: 'sent' | 'saved') => {
    setTold(how);
    onGone();
  };
  const send = async () => {
    try {
      if (await share([inHand])) gone('sent');
    } catch {
      setTold('failed');
    }
  };
  const keep = () => {
    save(name, 'text/plain', file);
    gone('saved');
  };
  const left = told === 'sent' || told === 'saved';
  return (
    <Page
      title={title}
      back={() => go(back)}
      foot={
        <>
          {told && <p role="status">{t(`keep:ready.${told}`, { name })}</p>}
          {shares && (
            <button type="button" class={left ? 'button button-second' : 'button button-main'} onClick={() => void send()}>
              {t('keep:ready.send')}
            </button>
          )}
          <button type="button" class={left || shares ? 'button button-second' : 'button button-main'} onClick={keep}>
            {t('keep:ready.save')}
          </button>
          {left && (
            <button type="button" class="button button-main" onClick={() => go(back)}>
              {t('common:done')}
            </button>
          )}
        </>
      }
    >
      <p class="lead">{text}</p>
      <p>{t('keep:ready.file', { name, size: formatBytes(file.size) })}</p>
    </Page>
  );
}
