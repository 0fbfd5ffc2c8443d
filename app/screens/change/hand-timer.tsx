import { useEffect, useState } from 'preact/hooks';
import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';

/** Counts the seconds of a hand wash. It can be stopped, started again or passed over; nothing waits for it. */
export function HandTimer({ seconds }: { seconds: number }) {
  const [left, setLeft] = useState(seconds);
  const [running, setRunning] = useState(false);
  useEffect(() => {
    if (!running) return;
    const timer = setInterval(() => setLeft((l) => Math.max(0, l - 1)), 1000);
    return () => clearInterval(timer);
  }, [running]);
  useEffect(() => {
    if (left === 0) setRunning(false);
  }, [left]);
  const label = running ? t('change:timer.pause') : left === 0 ? t('change:timer.again') : t('change:timer.start', { count: seconds });
  return (
    <div class="timer">
      <p class="timer-left" aria-hidden="true">
        {formatNumber(left)}
      </p>
      <button
        type="button"
        class="button button-second"
        onClick={() => {
          if (left === 0) setLeft(seconds);
          setRunning(left === 0 ? true : !running);
        }}
      >
        {label}
      </button>
      <p class="unseen" role="status">
        {left === 0 ? t('change:timer.over') : ''}
      </p>
    </div>
  );
}
