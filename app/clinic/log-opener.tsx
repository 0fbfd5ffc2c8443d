import { useState } from 'preact/hooks';
import { type Collected, missingParts } from '../exchange/code-sequence.ts';
import { formatList, formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { LogCamera } from './log-camera.tsx';
import type { OpenLog, Person } from './open-log.ts';
import { useLogReader } from './use-log-reader.ts';

interface Props {
  /** The person on the desk: no other's log is taken in beside theirs. */
  expected?: Person | undefined;
  onLog: (log: OpenLog) => void;
}

/** Opens a log: a file dropped or chosen, photos of the codes, or the camera. Nothing is stored. */
export function LogOpener({ expected, onLog }: Props) {
  const { fault, codes, takeText, takeFiles, startOver } = useLogReader(expected, onLog);
  const [over, setOver] = useState(false);
  const [camera, setCamera] = useState(false);
  const chosen = (event: { currentTarget: HTMLInputElement }) => {
    const input = event.currentTarget;
    // Emptied afterwards, so that the same file can be chosen again.
    void takeFiles([...(input.files ?? [])]).finally(() => {
      input.value = '';
    });
  };
  return (
    <div class="log-opener">
      {fault && (
        <p class="error" role="alert">
          {fault}
        </p>
      )}
      <label
        class={over ? 'start-way file drop drop-over' : 'start-way file drop'}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={(event) => {
          event.preventDefault();
          setOver(false);
          void takeFiles([...(event.dataTransfer?.files ?? [])]);
        }}
      >
        <strong>{t('clinic:readLog.file')}</strong>
        <span>{t('clinic:readLog.fileHint')}</span>
        <input type="file" accept=".txt,.json,text/plain,application/json" onChange={chosen} />
      </label>
      <section>
        <h2>{t('clinic:readLog.codes')}</h2>
        <p>{t('clinic:readLog.codesHint')}</p>
        {codes && <Progress codes={codes} onForget={startOver} />}
        {camera ? (
          <LogCamera onText={takeText} onClose={() => setCamera(false)} />
        ) : (
          <div class="ways">
            <button type="button" class="small" onClick={() => setCamera(true)}>
              {t('clinic:readLog.useCamera')}
            </button>
            <label class="small file">
              {t('clinic:readLog.photos')}
              <input type="file" accept="image/*" multiple onChange={chosen} />
            </label>
          </div>
        )}
      </section>
    </div>
  );
}

/** How much of a set of codes is in. */
function Progress({ codes, onForget }: { codes: Collected; onForget: () => void }) {
  const missing = missingParts(codes);
  return (
    <div class="log-progress">
      <p role="status">
        <strong>{t('clinic:readLog.progress', { found: formatNumber(codes.count - missing.length), count: codes.count })}</strong>{' '}
        {t('clinic:readLog.missing', { numbers: formatList(missing.map((n) => formatNumber(n))) })}
      </p>
      <button type="button" class="link" onClick={onForget}>
        {t('clinic:readLog.startOver')}
      </button>
    </div>
  );
}
