import { useEffect, useRef, useState } from 'preact/hooks';
import { t } from '../../words/i18n.ts';

/** How long the button must be held, and how many short presses do the same. */
const HOLD_MS = 3000;
const PRESSES = 5;
const TICK_MS = 100;
/** Presses further apart than this were not meant together. */
const TOGETHER_MS = 8000;

const isPress = (key: string): boolean => key === 'Enter' || key === ' ';

/**
 * A button for what must not happen by a slip: held for three seconds, or
 * pressed five times in a row by those who cannot hold, such as with a switch
 * or a screen reader. It keeps no secret.
 */
export function HoldButton({ onHeld }: { onHeld: () => void }) {
  const [ticks, setTicks] = useState(0);
  const [presses, setPresses] = useState(0);
  const holding = useRef<ReturnType<typeof setInterval> | undefined>(undefined);
  const forget = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const release = () => {
    clearInterval(holding.current);
    holding.current = undefined;
    setTicks(0);
  };
  const hold = () => {
    if (holding.current !== undefined) return;
    let count = 0;
    holding.current = setInterval(() => {
      count += 1;
      setTicks(count);
      if (count * TICK_MS < HOLD_MS) return;
      release();
      onHeld();
    }, TICK_MS);
  };
  const press = () => {
    clearTimeout(forget.current);
    forget.current = setTimeout(() => setPresses(0), TOGETHER_MS);
    if (presses + 1 >= PRESSES) onHeld();
    setPresses((presses + 1) % PRESSES);
  };
  useEffect(
    () => () => {
      clearInterval(holding.current);
      clearTimeout(forget.current);
    },
    [],
  );
  const left = Math.ceil((HOLD_MS - ticks * TICK_MS) / 1000);
  return (
    <>
      <p class="hold-words" role="status">
        {presses > 0 && ticks === 0 && t('visit:back.presses', { count: PRESSES - presses })}
      </p>
      <button
        type="button"
        class="button button-second hold"
        onPointerDown={(e) => {
          // The finger may slip off the edge without letting go.
          e.currentTarget.setPointerCapture?.(e.pointerId);
          hold();
        }}
        onPointerUp={release}
        onPointerCancel={release}
        onContextMenu={(e) => e.preventDefault()}
        onClick={press}
        onKeyDown={(e) => {
          if (!isPress(e.key)) return;
          // A held key repeats its click; it is one hold.
          e.preventDefault();
          hold();
        }}
        onKeyUp={(e) => {
          if (!isPress(e.key)) return;
          e.preventDefault();
          if (holding.current !== undefined) press();
          release();
        }}
        onBlur={release}
      >
        <span class="hold-fill" style={{ inlineSize: `${Math.min(100, (ticks * TICK_MS * 100) / HOLD_MS)}%` }} aria-hidden="true" />
        <span class="hold-label">{ticks > 0 ? t('visit:back.on', { seconds: left }) : t('visit:back.hold')}</span>
      </button>
    </>
  );
}
