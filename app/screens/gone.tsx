import { Page } from '../parts/page.tsx';
import { t } from '../words/i18n.ts';
import { go } from './route.ts';

/** For an entry that is not here or was withdrawn: no verdict of any kind. */
export function GoneScreen() {
  return (
    <Page
      title={t('alert:goneEntry')}
      foot={
        <button type="button" class="button button-main" onClick={() => go('today')}>
          {t('common:toToday')}
        </button>
      }
    >
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
