import { useEffect, useState } from 'preact/hooks';
import type { RecordKind } from '../../care/log/records.ts';
import { type Entry, standing } from '../../care/log/timeline.ts';
import type { ChosenPhoto } from '../../exchange/fhir/media.ts';
import { entriesWithin, type Period } from '../../exchange/period.ts';
import { Page } from '../../parts/page.tsx';
import { photoBytes } from '../../store/photos.ts';
import type { Shelf } from '../../store/shelf.ts';
import { formatBytes, formatDay, formatList } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { save } from '../save-file.ts';
import { canShare, share } from '../share-file.ts';
import type { Made, Way } from './ways.ts';
import type { PhotoEntry, WholeLog } from './whole-log.ts';
import './hand-over.css';

interface Props {
  way: Way;
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
      const chosen = { book, entries: log.entries, period, now: notebook.device.now(), today: notebook.today() };
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

const COUNTED = ['check', 'change', 'alert', 'measurement', 'note'] as const satisfies readonly RecordKind[];

/** What the file holds, in plain words. */
function Holds({ way, log, period, photos }: { way: Way; log: WholeLog; period: Period; photos: number }) {
  const { notebook, book } = useBook();
  const shown = entriesWithin(log.entries, period);
  const first = period.from ?? shown.map((e) => e.first.day).sort()[0] ?? notebook.today();
  const names = writers(shown, way.namesPatient);
  return (
    <>
      <h2>{t('handOver:holds')}</h2>
      <ul class="facts">
        <li>{t('handOver:days', { from: formatDay(first, 'short'), to: formatDay(notebook.today(), 'short') })}</li>
        {COUNTED.map((kind) => ({ kind, count: standing(shown, kind).length }))
          .filter(({ count }) => count > 0)
          .map(({ kind, count }) => (
            <li key={kind}>{t(`handOver:count.${kind}`, { count })}</li>
          ))}
        <li>{photos > 0 ? t('handOver:count.photo', { count: photos }) : t('handOver:noPhotos')}</li>
      </ul>
      <p>{t(`handOver:about.${way.id}`, { name: book.plan.person.callMe })}</p>
      {names.length > 0 && <p>{t('handOver:writers', { names: formatList(names) })}</p>}
      <p>{t('handOver:unknown')}</p>
      {log.unreadable > 0 && <p class="notice">{t('handOver:unreadable', { count: log.unreadable })}</p>}
    </>
  );
}

/** The names under which entries were written, as far as the file says them. */
const writers = (shown: readonly Entry[], withPatient: boolean): string[] => {
  const by = shown.flatMap((e) => [...e.versions, ...(e.voided ? [e.voided] : [])]).map((r) => r.by);
  return [...new Set(by.filter((b) => withPatient || b.who === 'caregiver').flatMap((b) => (b.name ? [b.name] : [])))].sort();
};
