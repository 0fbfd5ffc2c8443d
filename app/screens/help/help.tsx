import { GRAVE_UNWELL } from '../../care/check/questions.ts';
import { clinicHours } from '../../care/escalation/who-to-call.ts';
import { REGIONS } from '../../care/plan/emergency-numbers.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { LevelMark } from '../../parts/level.tsx';
import { Page } from '../../parts/page.tsx';
import { formatTime, regionName } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useNotebook, useNow } from '../context.ts';
import { emergencyNumbers, regionInUse } from '../region.ts';
import { goBack } from '../route.ts';

/** Help now: the emergency number first, then the clinic. Works without a plan. */
export function HelpScreen() {
  const { notebook, state } = useNotebook();
  const now = useNow(notebook);
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
      <h2>{t('alert:help.when')}</h2>
      <ul class="facts">
        {GRAVE_UNWELL.map((code) => (
          <li key={code}>{t(`check:unwell.code.${code}`)}</li>
        ))}
        <li>{t('alert:help.paleFoot')}</li>
        <li>{t('check:bleeding.code.willNotStop')}</li>
        <li>{t('check:redness.code.fast')}</li>
        <li>{t('alert:help.feverAndFoot')}</li>
      </ul>
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
      {!clinic?.emergencyNumber && (
        <div class="field">
          <label for="region">{t('alert:help.region')}</label>
          <select
            id="region"
            value={region && REGIONS.includes(region) ? region : ''}
            onChange={(e) => void notebook.saveSettings({ region: e.currentTarget.value || undefined })}
          >
            <option value="">{t('alert:help.otherRegion')}</option>
            {REGIONS.map((r) => (
              <option key={r} value={r}>
                {regionName(r)}
              </option>
            ))}
          </select>
        </div>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
