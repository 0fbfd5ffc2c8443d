import type { ChangeRecord } from '../../care/log/records.ts';
import { standing } from '../../care/log/timeline.ts';
import { Drawing } from '../../parts/drawing.tsx';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { formatNearDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { dueOf, woundsDue } from '../due.ts';
import { go } from '../route.ts';

/** After a change: what comes next. */
export function ChangedScreen({ id }: { id: string }) {
  const { notebook, state } = useBook();
  const change = standing(state.entries, 'change').find((e) => e.first.id === id)?.now as ChangeRecord | undefined;
  const wound = change && notebook.wound(change.wound);
  const due = wound && dueOf(notebook, wound);
  const other = woundsDue(notebook).find((w) => w.id !== wound?.id);
  const open = notebook.openAlerts()[0];
  const fired = change?.judgement?.fired ?? [];
  return (
    <Page
      title={t(open ? `alert:title.${open.told}` : 'change:doneTitle')}
      over={open ? t('change:doneTitle') : undefined}
      foot={
        <>
          {open && (
            <a class="button button-main" href={`#/alert/${open.id}`}>
              {t('today:whomToCall')}
            </a>
          )}
          {other && (
            <button type="button" class={`button ${open ? 'button-second' : 'button-main'}`} onClick={() => go('change', other.id)}>
              {t('change:nextWound', { wound: woundName(other) })}
            </button>
          )}
          <button type="button" class={`button ${open || other ? 'button-quiet' : 'button-main'}`} onClick={() => go('today')}>
            {t('common:toToday')}
          </button>
        </>
      }
    >
      {!open && <Drawing name="done" />}
      <p class="lead">{t(change?.path === 'coverAndCall' ? 'change:doneCovered' : 'change:doneText')}</p>
      {due && <p>{t('change:nextDue', { day: formatNearDay(due.day, notebook.today()) })}</p>}
      {fired.length > 0 ? (
        <>
          <h2>{t('alert:why')}</h2>
          <Reasons fired={fired} />
        </>
      ) : (
        <p>{t('alert:lead.carryOn')}</p>
      )}
      {change && standing(state.entries, 'stock').some((e) => e.now.change === id) && (
        <a class="button button-quiet" href={`#/used/${encodeURIComponent(id)}`}>
          {t('change:usedLink')}
        </a>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
