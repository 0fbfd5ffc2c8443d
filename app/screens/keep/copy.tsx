import { useEffect, useState } from 'preact/hooks';
import { openBackup, writeBackup } from '../../exchange/backup-file.ts';
import type { BackupPart } from '../../exchange/backup-parts.ts';
import { isLongEnough, PASSPHRASE_LEAST } from '../../exchange/passphrase.ts';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { SecretField, ShowLetters } from '../../parts/secret-field.tsx';
import type { Notebook } from '../../store/notebook.ts';
import { countOfParts, everything, type Inventory, inventory } from '../../store/whole.ts';
import { formatBytes, formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { askToKeep } from '../storage.ts';
import { Ready } from './ready.tsx';
import { type Following, useWork, Working } from './work.tsx';

async function* partsOf(notebook: Notebook, contents: Inventory, photos: boolean): AsyncGenerator<BackupPart> {
  yield { kind: 'contents', ...contents };
  yield* everything(notebook.shelf, photos);
}

/** Makes a copy and reads it once more: a copy that does not open is worse than none. */
async function makeCopy(notebook: Notebook, passphrase: string, photos: boolean, { onProgress, signal }: Following): Promise<Blob> {
  const contents = await inventory(notebook.shelf, photos);
  const file = await writeBackup(partsOf(notebook, contents, photos), passphrase, {
    made: new Date(notebook.device.now()).toISOString(),
    count: (await countOfParts(notebook.shelf, photos)) + 1,
    onProgress: (share) => onProgress(share / 2),
    signal,
  });
  const opened = await openBackup(file, passphrase);
  if (!opened.ok || (await opened.backup.fault({ onProgress: (share) => onProgress((1 + share) / 2), signal }))) {
    throw new Error('the copy does not open');
  }
  return file;
}

/** One locked file with all that this phone keeps. */
export function CopyScreen() {
  const { notebook } = useBook();
  const [passphrase, setPassphrase] = useState('');
  const [again, setAgain] = useState('');
  const [shown, setShown] = useState(false);
  const [photos, setPhotos] = useState(true);
  const [complain, setComplain] = useState(false);
  const [step, setStep] = useState<'asking' | 'working' | 'failed'>('asking');
  const [file, setFile] = useState<Blob | undefined>();
  const found = usePhotoCount(notebook);
  const work = useWork();

  const isShort = !isLongEnough(passphrase);
  const make = async () => {
    if (isShort || again !== passphrase) return setComplain(true);
    setStep('working');
    // Now the person wants the book kept: the right moment to ask the browser for the same.
    void askToKeep();
    const done = await work.run((following) => makeCopy(notebook, passphrase, photos, following));
    if (done.ok) setFile(done.value);
    setStep(!done.ok && done.why === 'failed' ? 'failed' : 'asking');
  };

  if (file) {
    return (
      <Ready
        title={t('keep:copy.ready')}
        text={t('keep:copy.readyText')}
        name={`tendbook-copy-${notebook.today()}.txt`}
        file={file}
        back="keep"
        onGone={() => void notebook.saveSettings({ copiedOn: notebook.today(), copyLater: undefined }).catch(() => undefined)}
      />
    );
  }
  if (step === 'working') {
    return <Working title={t('keep:copy.working')} text={t('keep:workingText')} share={work.share} onStop={work.stop} />;
  }
  return (
    <Page
      title={t('keep:copy.title')}
      back={() => go('keep')}
      foot={
        <button type="button" class="button button-main" onClick={() => void make()}>
          {t('keep:copy.make')}
        </button>
      }
    >
      <NotSaved when={step === 'failed'} />
      <p class="lead">{t('keep:copy.lead')}</p>
      <SecretField
        label={t('keep:passphrase.choose')}
        hint={t('keep:passphrase.hint', { least: formatNumber(PASSPHRASE_LEAST) })}
        value={passphrase}
        shown={shown}
        isNew
        error={complain && isShort ? t('keep:passphrase.short', { least: formatNumber(PASSPHRASE_LEAST) }) : undefined}
        onChange={setPassphrase}
      />
      <SecretField
        label={t('keep:passphrase.again')}
        value={again}
        shown={shown}
        isNew
        error={complain && !isShort && again !== passphrase ? t('keep:passphrase.differ') : undefined}
        onChange={setAgain}
      />
      <ShowLetters label={t('keep:passphrase.show')} shown={shown} onChange={setShown} />
      <p class="notice">{t('keep:passphrase.warning')}</p>
      {found && found.photos > 0 && (
        <Choices
          legend={t('keep:photos.title')}
          choices={[
            { value: 'yes', label: t('keep:photos.with', { count: found.photos }), hint: formatBytes(found.photoBytes) },
            { value: 'no', label: t('keep:photos.without') },
          ]}
          chosen={[photos ? 'yes' : 'no']}
          onChange={([value]) => setPhotos(value === 'yes')}
        />
      )}
    </Page>
  );
}

function usePhotoCount(notebook: Notebook): Inventory | undefined {
  const [found, setFound] = useState<Inventory | undefined>();
  useEffect(() => {
    let current = true;
    void inventory(notebook.shelf, true).then((counted) => current && setFound(counted));
    return () => {
      current = false;
    };
  }, [notebook]);
  return found;
}
