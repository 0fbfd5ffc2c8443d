import './log-codes.css';
import { useEffect, useState } from 'preact/hooks';
import { type Code, pathOf, QUIET_MODULES } from '../exchange/qr-write.ts';
import { CodePicture } from '../parts/code-picture.tsx';
import { formatNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import type { LogCodesState } from './use-log-codes.ts';

/** How long each code stands when they turn by themselves: long enough for a camera to find it twice. */
const TURN_MS = 1_500;

/** The codes of a log, or why there are none. The words are those of the area `keep`. */
export function LogCodes({ codes }: { codes: LogCodesState }) {
  if (codes === undefined) return <p role="status">{t('common:wait')}</p>;
  if (typeof codes !== 'string') return <Turning codes={codes} />;
  return (
    <p class="error" role="alert">
      {t(`keep:codes.${codes}`)}
    </p>
  );
}

/** One code after the other, turned by hand or by themselves. */
function Turning({ codes }: { codes: readonly Code[] }) {
  const [at, setAt] = useState(0);
  const [turning, setTurning] = useState(false);
  useEffect(() => setAt(0), [codes]);
  useEffect(() => {
    if (!turning) return;
    const timer = setInterval(() => setAt((n) => (n + 1) % codes.length), TURN_MS);
    return () => clearInterval(timer);
  }, [turning, codes]);
  const code = codes[Math.min(at, codes.length - 1)];
  if (!code) return null;
  const label = t('keep:codes.codeOf', { at: formatNumber(at + 1), of: formatNumber(codes.length) });
  const step = (by: number) => {
    setTurning(false);
    setAt((at + by + codes.length) % codes.length);
  };
  return (
    <div class="log-codes">
      <figure>
        <CodePicture path={pathOf(code)} modules={code.size} quiet={QUIET_MODULES} label={label} />
        <figcaption>{label}</figcaption>
      </figure>
      {codes.length > 1 && (
        <>
          <div class="turn">
            <button type="button" class="button button-second" onClick={() => step(-1)}>
              {t('keep:codes.before')}
            </button>
            <button type="button" class="button button-second" onClick={() => step(1)}>
              {t('keep:codes.after')}
            </button>
          </div>
          <button type="button" class="button button-quiet" onClick={() => setTurning(!turning)}>
            {t(turning ? 'keep:codes.stop' : 'keep:codes.turn')}
          </button>
        </>
      )}
    </div>
  );
}
