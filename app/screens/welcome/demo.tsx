import { useEffect } from 'preact/hooks';
import { demoPlan } from '../../exchange/demo-plan.ts';
import { Page } from '../../parts/page.tsx';
import { t, words } from '../../words/i18n.ts';
import { useNotebook } from '../context.ts';
import { replace } from '../route.ts';

/** Opens the demo plan for confirmation, as a plan of one's own would be. */
export function DemoScreen() {
  const { notebook } = useNotebook();
  useEffect(() => {
    void demoPlan(notebook.today(), words.language)
      .then((plan) => notebook.keepIncoming(plan))
      .then(() => replace('confirm'));
  }, [notebook]);
  return (
    <Page title={t('welcome:demo')}>
      <p>{t('common:wait')}</p>
    </Page>
  );
}
