import { CallButton } from '../../parts/call-button.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { emergencyNumber } from '../region.ts';

/** In an emergency the first screen calls with one tap. Needs the words of `alert`. */
export function EmergencyCall() {
  const { state } = useBook();
  return <CallButton phone={emergencyNumber(state)} label={t('alert:call.emergency')} tone="grave" />;
}
