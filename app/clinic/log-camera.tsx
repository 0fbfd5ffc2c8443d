import { useRef } from 'preact/hooks';
import { type CameraState, CodeCamera } from '../exchange/camera.ts';
import { useCamera } from '../parts/use-camera.ts';
import { t } from '../words/i18n.ts';

/** The camera of the desk, held before the codes on the person's phone. @param onText told of each code once. */
export function LogCamera({ onText, onClose }: { onText: (text: string) => void; onClose: () => void }) {
  const last = useRef<string | undefined>(undefined);
  const camera = useCamera<CameraState>(
    (tell, found) => new CodeCamera(tell, found),
    'starting',
    (text) => {
      // The same code stays in the picture for a while.
      if (text === last.current) return;
      last.current = text;
      onText(text);
    },
  );
  const off = camera.state !== 'looking' && camera.state !== 'starting';
  return (
    <div class="log-camera">
      {off ? (
        <p class="error" role="alert">
          {t(`clinic:readLog.camera.${camera.state}`)}
        </p>
      ) : (
        <>
          <video ref={camera.video} playsInline muted aria-label={t('clinic:readLog.picture')} />
          <p role="status">{t('clinic:readLog.looking')}</p>
        </>
      )}
      <div class="ways">
        {off && (
          <button type="button" class="small" onClick={camera.again}>
            {t('clinic:readLog.again')}
          </button>
        )}
        <button type="button" class="small" onClick={onClose}>
          {t('clinic:readLog.cameraOff')}
        </button>
      </div>
    </div>
  );
}
