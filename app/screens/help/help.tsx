import { useState } from 'preact/hooks';
import { clinicHours } from '../../care/escalation/who-to-call.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { LevelMark } from '../../parts/level.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook, useNow } from '../context.ts';
import { DangerSigns, RegionField } from '../danger-signs.tsx';
import { emergencyNumbers, regionInUse } from '../region.ts';
import { goBack } from '../route.ts';

/** Help now: the emergency number first, then the clinic, then for what to call. Works without a plan. */
export function HelpScreen() {
  const { notebook, state } = useNotebook();
  const now = useNow(notebook);
  const [failed, setFailed] = useState(false);
  const numbers = emergencyNumbers(state);
  const clinic = state.book?.plan.clinic;
  const hours = clinic && clinicHours(clinic, now);
  const region = regionInUse(state);
  // The phone that is answered now stands first.
  const daytime = clinic && (
    <CallButton key="clinic" phone={clinic.phone} label={t('alert:call.clinic')} tone={hours?.open ? 'main' : 'quiet'} />
  );
  const afterHours = clinic?.outOfHoursPhone && (
    <CallButton key="outOfHours" phone={clinic.outOfHoursPhone} label={t('alert:call.outOfHours')} tone={hours?.open ? 'quiet' : 'main'} />
  );
  return (
    <Page
      title={t('alert:help.title')}
      over={<LevelMark level="emergency" />}
      class="alert alert-emergency help-page"
      noHelp
      back={() => goBack('today')}
    >
      <div class="stack">
        {numbers.map((phone) => (
          <CallButton key={phone} phone={phone} label={t('alert:call.emergency')} tone="grave" />
        ))}
      </div>
      <p>{t('alert:orLocal')}</p>
      {clinic && hours && (
        <>
          <h2>
            <bdi>{clinic.name}</bdi>
          </h2>
          <p>
            {hours.open
              ? t('alert:help.open')
              : hours.opensAt !== undefined
                ? t('alert:help.opensAt', { time: formatTime(hours.opensAt, notebook.device.zone()) })
                : t('alert:help.closed')}
          </p>
          <div class="stack">{hours.open ? [daytime, afterHours] : [afterHours, daytime]}</div>
        </>
      )}
      <DangerSigns />
      {!clinic?.emergencyNumber && (
        <>
          <NotSaved when={failed} />
          <RegionField region={region} onChange={(chosen) => void notebook.saveSettings({ region: chosen }).catch(() => setFailed(true))} />
        </>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
