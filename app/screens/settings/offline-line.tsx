import { useEffect, useState } from 'preact/hooks';
import { t } from '../../words/i18n.ts';

type Offline = 'ready' | 'notYet' | 'never';

async function standing(): Promise<Offline> {
  if (!('serviceWorker' in navigator)) return 'never';
  const worker = await navigator.serviceWorker.getRegistration().catch(() => undefined);
  return worker?.active ? 'ready' : 'notYet';
}

/** Whether the app itself is on this phone and opens without a network. Where installing it failed, this says so. */
export function OfflineLine() {
  const [offline, setOffline] = useState<Offline | undefined>();
  useEffect(() => void standing().then(setOffline), []);
  return offline ? <p data-offline={offline}>{t(`settings:offline.${offline}`)}</p> : null;
}
