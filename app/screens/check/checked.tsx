import type { CheckRecord } from '../../care/log/records.ts';
import { standing } from '../../care/log/timeline.ts';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { woundsDue } from '../due.ts';
import { go } from '../route.ts';

/** After a check that raised no new alert. */
export function CheckedScreen({ id }: { id: string }) {
  const { notebook, state } = useBook();
  const check = standing(state.entries, 'check').find((e) => e.first.id === id)?.now as CheckRecord | undefined;
  const due = woundsDue(notebook)[0];
  const told = check?.judgement.told ?? 'carryOn';
  const calls = told === 'callToday' || told === 'callNow' || told === 'emergency';
  const open = notebook.openAlerts()[0];
  return (
    <Page
      title={t(`alert:title.${told}`)}
      class={`checked checked-${told}`}
      foot={
        <>
          {calls && open && (
            <a class="button button-main" href={`#/alert/${open.id}`}>
              {t('today:whomToCall')}
            </a>
          )}
          {due && (
            <button type="button" class={`button ${calls ? 'button-second' : 'button-main'}`} onClick={() => go('change', due.id)}>
              {t('today:startChange')}
            </button>
          )}
          <button type="button" class={`button ${due || calls ? 'button-quiet' : 'button-main'}`} onClick={() => go('today')}>
            {t('common:toToday')}
          </button>
        </>
      }
    >
      <p class="lead">{t(`alert:lead.${told}`)}</p>
      {check && check.judgement.fired.length > 0 && (
        <>
          <h2>{t('alert:why')}</h2>
          <Reasons fired={check.judgement.fired} />
        </>
      )}
      {due && !calls && <p>{t('check:dueAfter')}</p>}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
