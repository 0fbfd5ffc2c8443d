import { useEffect, useRef, useState } from 'preact/hooks';
import type { Plan } from '../care/plan/plan.ts';
import { t } from '../words/i18n.ts';

/** How long typing may rest before the preview follows. */
const REST_MS = 400;

/**
 * The patient's own app in a frame the size of a phone. It runs on stores of
 * its own that are emptied before and after, so it shares nothing with a
 * patient's app that may be in use on this device.
 */
export function PhonePreview({ plan }: { plan: Plan }) {
  const frame = useRef<HTMLIFrameElement>(null);
  const [ready, setReady] = useState(0);
  const json = JSON.stringify(plan);
  useEffect(() => {
    const heard = (event: MessageEvent) => {
      if (event.origin !== location.origin || event.source !== frame.current?.contentWindow) return;
      if ((event.data as { tendbook?: unknown } | null)?.tendbook === 'previewReady') setReady((n) => n + 1);
    };
    window.addEventListener('message', heard);
    return () => window.removeEventListener('message', heard);
  }, []);
  useEffect(() => {
    if (ready === 0) return;
    const timer = setTimeout(
      () => frame.current?.contentWindow?.postMessage({ tendbook: 'previewPlan', plan: JSON.parse(json) as unknown }, location.origin),
      REST_MS,
    );
    return () => clearTimeout(timer);
  }, [json, ready]);
  return (
    <div class="phone">
      <p class="f-hint">{t('clinic:preview.hint')}</p>
      <iframe ref={frame} title={t('clinic:preview.title')} src="./index.html?preview" />
    </div>
  );
}
