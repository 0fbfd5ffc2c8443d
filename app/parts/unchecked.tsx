import { isUnchecked, t, words } from '../words/i18n.ts';

/** Says, in a language whose translation no clinician has checked, that it is so; nothing in any other. */
export function Unchecked() {
  return isUnchecked(words.language) ? <p class="hint">{t('common:unchecked')}</p> : null;
}
