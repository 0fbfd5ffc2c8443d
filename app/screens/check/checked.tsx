import { standingOne } from '../../care/log/timeline.ts';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { woundsDue } from '../due.ts';
import { GoneScreen } from '../gone.tsx';
import { go } from '../route.ts';
import { toldNow } from '../told.ts';

/** Dressings that ask for a change today, whatever the schedule says. */
const GAVE_WAY: readonly unknown[] = ['loose', 'wetFromOutside', 'markedThrough', 'leaking'];

/** After a check that raised no new alert. An alert that is still open leads, whatever this check says. */
export function CheckedScreen({ id }: { id: string }) {
  const { notebook, state, book } = useBook();
  const check = standingOne(state.entries, 'check', id);
  if (!check) return <GoneScreen />;
  const open = notebook.openAlerts()[0];
  const gaveWay = book.plan.wounds.find((w) => GAVE_WAY.includes(check.wounds[w.id]?.dressing));
  const due = woundsDue(notebook)[0] ?? gaveWay;
  const { told, fired } = check.judgement;
  return (
    <Page
      title={open ? toldNow(notebook, open).title : t(`alert:title.${told}`)}
      class="checked"
      foot={
        <>
          {open && (
            <a class="button button-main" href={`#/alert/${open.id}`}>
              {t('today:whomToCall')}
            </a>
          )}
          {due && (
            <button type="button" class={`button ${open ? 'button-second' : 'button-main'}`} onClick={() => go('change', due.id)}>
              {t('today:startChange')}
            </button>
          )}
          <button type="button" class={`button ${due || open ? 'button-quiet' : 'button-main'}`} onClick={() => go('today')}>
            {t('common:toToday')}
          </button>
        </>
      }
    >
      <p class="lead">{t(open ? 'alert:stillOpen' : `alert:lead.${told}`)}</p>
      {check.person.note && <p>{t('check:noteUnread')}</p>}
      {fired.length > 0 && (
        <>
          <h2>{t('alert:why')}</h2>
          <Reasons fired={fired} />
        </>
      )}
      {due && !open && <p>{t(gaveWay ? 'check:changeGaveWay' : 'check:dueAfter')}</p>}
      {!open && (
        <a class="button button-quiet" href="#/help">
          {t('today:whomToCall')}
        </a>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
