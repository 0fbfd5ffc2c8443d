import { formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';

/** The line above the title of a step: how far it is, and which wound it is about where there are several. */
export function StepOver({ at, of, about }: { at: number; of: number; about: string | undefined }) {
  return (
    <>
      <span>{t('common:progress', { at: formatNumber(at), of: formatNumber(of) })}</span>
      {about && <span class="about">{about}</span>}
    </>
  );
}
