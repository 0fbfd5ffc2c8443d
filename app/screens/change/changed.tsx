import type { AlertRecord } from '../../care/log/records.ts';
import { standing, standingOne } from '../../care/log/timeline.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { Drawing } from '../../parts/drawing.tsx';
import { Page } from '../../parts/page.tsx';
import { Reasons } from '../../parts/reasons.tsx';
import { formatNearDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { CallAction } from '../call-action.tsx';
import { useBook } from '../context.ts';
import { dueOf, woundsDue } from '../due.ts';
import { GoneScreen } from '../gone.tsx';
import { go } from '../route.ts';
import { toldNow } from '../told.ts';

interface NextProps {
  open: AlertRecord | undefined;
  covered: boolean;
  other: Wound | undefined;
}

/** What to do now: call, go on with another wound, or go back. */
function Next({ open, covered, other }: NextProps) {
  const { notebook } = useBook();
  return (
    <>
      {open && covered && <CallAction call={toldNow(notebook, open).call} level={open.told} />}
      {open && (
        <a class={`button ${covered ? 'button-second' : 'button-main'}`} href={`#/alert/${open.id}`}>
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
  );
}

/** After a change: what comes next. */
export function ChangedScreen({ id }: { id: string }) {
  const { notebook, state } = useBook();
  const change = standingOne(state.entries, 'change', id);
  if (!change) return <GoneScreen />;
  const wound = notebook.wound(change.wound);
  const due = wound && dueOf(notebook, wound);
  const other = woundsDue(notebook).find((w) => w.id !== wound?.id);
  const open = notebook.openAlerts()[0];
  const fired = change.judgement?.fired ?? [];
  const covered = change.path === 'coverAndCall';
  return (
    <Page
      title={open ? toldNow(notebook, open).title : t('change:doneTitle')}
      over={open ? t(covered ? 'change:coveredTitle' : 'change:doneTitle') : undefined}
      foot={<Next open={open} covered={covered} other={other} />}
    >
      {!open && <Drawing name="done" />}
      <p class="lead">{t(covered ? 'change:doneCovered' : 'change:doneText')}</p>
      {covered && <p>{t('change:askWhen')}</p>}
      {due && !covered && <p>{t('change:nextDue', { day: formatNearDay(due.day, notebook.today()) })}</p>}
      {fired.length > 0 && (
        <>
          <h2>{t('alert:why')}</h2>
          <Reasons fired={fired} />
        </>
      )}
      {fired.length === 0 && !open && <p>{t('alert:lead.carryOn')}</p>}
      {standing(state.entries, 'stock').some((e) => e.now.change === id) && (
        <a class="button button-quiet" href={`#/used/${encodeURIComponent(id)}`}>
          {t('change:usedLink')}
        </a>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
