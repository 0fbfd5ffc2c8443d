import type { Outcome } from '../care/escalation/levels.ts';
import type { Call } from '../care/escalation/who-to-call.ts';
import { CallButton } from '../parts/call-button.tsx';
import { formatTime } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { useBook } from './context.ts';

/** Whom to call now, as one button; or where to go when nobody answers. */
export function CallAction({ call, level, quiet, again }: { call: Call; level: Outcome; quiet?: boolean; again?: boolean }) {
  const { notebook } = useBook();
  const tone = quiet ? 'quiet' : level === 'emergency' ? 'grave' : 'main';
  if (call.to === 'department') return <p class="department">{t('alert:department')}</p>;
  if (call.to === 'nobody') return null;
  if (call.to === 'clinicWhenOpen') {
    return (
      <>
        <p class="opens">{t('alert:opensAt', { time: formatTime(call.opensAt, notebook.device.zone()) })}</p>
        <CallButton phone={call.phone} label={t('alert:call.clinic')} tone={tone} />
      </>
    );
  }
  return <CallButton phone={call.phone} label={t(again ? 'alert:callAgain' : `alert:call.${call.to}`)} tone={tone} />;
}
