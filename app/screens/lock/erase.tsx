import { useState } from 'preact/hooks';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { eraseEverything } from '../../store/erase.ts';
import { t } from '../../words/i18n.ts';

/** Erases everything, in two steps: to say that it is meant, then to do it. */
export function Erase({ onBack, copy }: { onBack: () => void; copy?: preact.ComponentChildren }) {
  const [meant, setMeant] = useState(false);
  const [failed, setFailed] = useState(false);
  const erase = async () => {
    try {
      await eraseEverything();
      location.hash = '';
      location.reload();
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('lock:eraseTitle')}
      back={onBack}
      noHelp
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-grave" disabled={!meant} onClick={() => void erase()}>
            {t('lock:eraseSure')}
          </button>
          <button type="button" class="button button-second" onClick={onBack}>
            {t('common:cancel')}
          </button>
        </>
      }
    >
      <p class="lead">{t('lock:eraseText')}</p>
      <ul class="facts">
        {['log', 'photos', 'plan', 'desk'].map((what) => (
          <li key={what}>{t(`lock:eraseWhat.${what}`)}</li>
        ))}
      </ul>
      {copy}
      <Choices
        legend={t('lock:eraseTitle')}
        many
        choices={[{ value: 'meant', label: t('lock:eraseMeant') }]}
        chosen={meant ? ['meant'] : []}
        onChange={(chosen) => setMeant(chosen.length > 0)}
      />
    </Page>
  );
}
