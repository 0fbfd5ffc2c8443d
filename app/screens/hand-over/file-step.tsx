import { useEffect, useState } from 'preact/hooks';
import type { ChosenPhoto } from '../../exchange/fhir/media.ts';
import type { Period } from '../../exchange/period.ts';
import { Page } from '../../parts/page.tsx';
import { photoBytes } from '../../store/photos.ts';
import type { Shelf } from '../../store/shelf.ts';
import { formatBytes } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { save } from '../save-file.ts';
import { canShare, share } from '../share-file.ts';
import { Holds } from './holds.tsx';
import type { FileWay, Made } from './ways.ts';
import type { PhotoEntry, WholeLog } from './whole-log.ts';
import './hand-over.css';

interface Props {
  way: FileWay;
  log: WholeLog;
  period: Period;
  photos: readonly PhotoEntry[];
  onBack: () => void;
}

/** The bytes of the chosen photos. @throws when one of them is gone. */
async function bytesOf(shelf: Shelf, photos: readonly PhotoEntry[]): Promise<Map<string, ChosenPhoto>> {
  const found = new Map<string, ChosenPhoto>();
  for (const { now } of photos) {
    const blob = await photoBytes(shelf, now.photo);
    if (!blob) throw new Error(`photo ${now.photo} is not here`);
    found.set(now.photo, { type: blob.type || 'image/jpeg', bytes: new Uint8Array(await blob.arrayBuffer()) });
  }
  return found;
}

/** Says what the file holds and who can read it, then saves it or opens the share sheet. The file is made beforehand: a share sheet opens only right after a press. */
export function FileStep({ way, log, period, photos, onBack }: Props) {
  const { notebook, book } = useBook();
  const [made, setMade] = useState<Made | undefined>();
  const [said, setSaid] = useState<string | undefined>();
  const [wrong, setWrong] = useState<string | undefined>();

  useEffect(() => {
    let current = true;
    const make = async (): Promise<Made> => {
      const chosen = { notebook, book, entries: log.entries, period, now: notebook.device.now(), today: notebook.today() };
      return way.make({ ...chosen, photos: await bytesOf(notebook.shelf, photos) });
    };
    make().then(
      (file) => current && setMade(file),
      () => current && setWrong(t('handOver:failed')),
    );
    return () => {
      current = false;
    };
  }, []);

  const keep = ({ toSave }: Made) => {
    save(toSave.name, toSave.type, toSave.content);
    setWrong(undefined);
    setSaid(t('handOver:saved', { file: toSave.name }));
  };
  const send = async ({ toSend }: Made) => {
    try {
      if (await share(toSend)) setSaid(t('handOver:sent'));
      setWrong(undefined);
    } catch {
      setWrong(t('handOver:notSent'));
    }
  };

  return (
    <Page
      title={t('handOver:ready')}
      over={t(`handOver:way.${way.id}.name`)}
      back={onBack}
      focusKey="file"
      foot={
        <>
          {wrong && (
            <p class="error" role="alert">
              {wrong}
            </p>
          )}
          {(said || (!made && !wrong)) && (
            <p class="file-name" role="status">
              {said ?? t('common:wait')}
            </p>
          )}
          <button type="button" class="button button-main" disabled={!made} onClick={() => made && keep(made)}>
            {t('handOver:save')}
          </button>
          {made && canShare(made.toSend) && (
            <button type="button" class="button button-second" onClick={() => void send(made)}>
              {t('handOver:send')}
            </button>
          )}
        </>
      }
    >
      <Holds way={way} log={log} period={period} photos={photos.length} />
      {made && (
        <p class="hint file-name">
          {t('handOver:size', { file: made.toSave.name, size: formatBytes(new Blob([made.toSave.content]).size) })}
        </p>
      )}
      <h2>{t('handOver:whoReads')}</h2>
      <p>{t('handOver:open')}</p>
      <p>{t('handOver:after')}</p>
    </Page>
  );
}
