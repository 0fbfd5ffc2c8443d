import { useEffect, useState } from 'preact/hooks';
import { writeBookFile } from '../../exchange/book-file.ts';
import { fileName } from '../../exchange/file-name.ts';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatBytes } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { bookToSend, photosToSend } from '../send-book.ts';
import { Ready } from './ready.tsx';

type Found = Awaited<ReturnType<typeof photosToSend>>;

/** The open book as a file for another phone. */
export function SendScreen() {
  const { notebook, book } = useBook();
  const [found, setFound] = useState<Found | undefined>();
  const [photos, setPhotos] = useState(false);
  const [step, setStep] = useState<'asking' | 'working' | 'failed'>('asking');
  const [file, setFile] = useState<Blob | undefined>();
  useEffect(() => {
    let current = true;
    void photosToSend(notebook).then((there) => current && setFound(there));
    return () => {
      current = false;
    };
  }, [notebook]);
  const make = async () => {
    setStep('working');
    try {
      setFile(await writeBookFile(await bookToSend(notebook), photos && found ? found.photos : undefined));
    } catch {
      setStep('failed');
    }
  };
  if (file) {
    return (
      <Ready
        title={t('keep:send.ready')}
        text={t('keep:send.readyText')}
        name={fileName('log-phone', book.plan.person.callMe, notebook.today(), 'txt')}
        file={file}
        back="phones"
        onGone={() => undefined}
      />
    );
  }
  return (
    <Page
      title={t('keep:send.title', { name: book.plan.person.callMe })}
      back={() => go('phones')}
      foot={
        <button type="button" class="button button-main" {...press(() => void make(), step === 'working' || !found)}>
          {t('keep:send.make')}
        </button>
      }
    >
      <NotSaved when={step === 'failed'} />
      <p class="lead">{t('keep:send.lead')}</p>
      {found && found.photos.size > 0 && (
        <Choices
          legend={t('keep:photos.title')}
          choices={[
            { value: 'no', label: t('keep:photos.without') },
            { value: 'yes', label: t('keep:photos.with', { count: found.photos.size }), hint: formatBytes(found.bytes) },
          ]}
          chosen={[photos ? 'yes' : 'no']}
          onChange={([value]) => setPhotos(value === 'yes')}
        />
      )}
      {found && found.left > 0 && <p class="hint">{t('keep:send.left', { count: found.left })}</p>}
      <p class="hint">{t('keep:send.health')}</p>
    </Page>
  );
}
