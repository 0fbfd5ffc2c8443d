import { GRAVE_UNWELL } from '../care/check/questions.ts';
import { REGIONS } from '../care/plan/emergency-numbers.ts';
import { regionName } from '../words/format.ts';
import { t } from '../words/i18n.ts';

/** When to call the emergency number. Needs the words of `alert` and `check`. */
export function DangerSigns() {
  return (
    <>
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
    </>
  );
}

/** Where the person is, for the emergency number. */
export function RegionField({ region, onChange }: { region: string | undefined; onChange: (region: string | undefined) => void }) {
  return (
    <div class="field">
      <label for="region">{t('alert:help.region')}</label>
      <select
        id="region"
        value={region && REGIONS.includes(region) ? region : ''}
        onChange={(e) => onChange(e.currentTarget.value || undefined)}
      >
        <option value="">{t('alert:help.otherRegion')}</option>
        {REGIONS.map((r) => (
          <option key={r} value={r}>
            {regionName(r)}
          </option>
        ))}
      </select>
    </div>
  );
}
