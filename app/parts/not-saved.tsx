import { t } from '../words/i18n.ts';

/** Said where a press of the button should have stored something and the store refused. */
export function NotSaved({ when }: { when: boolean }) {
  if (!when) return null;
  return (
    <p class="error" role="alert">
      {t('common:notSaved')}
    </p>
  );
}
