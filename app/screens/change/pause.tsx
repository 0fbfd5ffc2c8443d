import { useEffect, useState } from 'preact/hooks';
import { type WoundStands, woundStandsAt } from '../../care/change/sequence.ts';
import { isStale } from '../../care/check/stale.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { HOUR_MS, localDay } from '../../care/schedule/day.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import type { ChangeDraft } from '../../store/drafts.ts';
import type { Notebook } from '../../store/notebook.ts';
import { formatDay, formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { go } from '../route.ts';
import { stepsOf } from './finished.ts';

/** After a longer rest the wound has dried, and hands and gloves are no longer clean. Our own limit. */
const REST_MS = HOUR_MS / 2;

const leftAt = (draft: ChangeDraft): string => draft.savedAt ?? draft.startedAt;

/** The clock when the change was opened or last came back into view. A step that takes long is no rest. */
function useCameBackAt(notebook: Notebook): number {
  const [at, setAt] = useState(() => notebook.device.now());
  useEffect(() => {
    const look = () => {
      if (!document.hidden) setAt(notebook.device.now());
    };
    document.addEventListener('visibilitychange', look);
    return () => document.removeEventListener('visibilitychange', look);
  }, [notebook]);
  return at;
}

/** How a change was come back to: not at all, after a rest, or on another day than that of its check. */
export function usePause(notebook: Notebook, draft: ChangeDraft): 'rested' | 'stale' | undefined {
  const back = useCameBackAt(notebook);
  if (isStale(draft.startedAt, back, notebook.today(), notebook.device.zone(), leftAt(draft))) return 'stale';
  return back - Date.parse(leftAt(draft)) > REST_MS ? 'rested' : undefined;
}

/** How the wound stands at the step a draft has come to. */
export const woundStands = (wound: Wound, draft: ChangeDraft): WoundStands => woundStandsAt(stepsOf(wound, draft).steps, draft.position);

function restedText(wound: Wound, draft: ChangeDraft): string {
  const stands = woundStands(wound, draft);
  if (stands === 'dressed') return t('change:dressed');
  if (stands === 'under') return t('change:rested.under');
  if (draft.path === 'coverAndCall') return t('change:rested.cover');
  return t(wound.keepDry ? 'change:rested.openDry' : 'change:rested.open');
}

interface RestedProps {
  wound: Wound;
  draft: ChangeDraft;
  over: string | undefined;
  zone: string;
  failed: boolean;
  onGoOn: () => void;
  onStop: () => void;
}

/** A change come back to after a rest: first clean hands and a rinsed wound. */
export function Rested({ wound, draft, over, zone, failed, onGoOn, onStop }: RestedProps) {
  return (
    <Page
      title={t('change:rested.title', { time: formatTime(leftAt(draft), zone) })}
      over={over}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" onClick={onGoOn}>
            {t('change:rested.goOn')}
          </button>
        </>
      }
    >
      <p class="lead">{restedText(wound, draft)}</p>
      <button type="button" class="button button-quiet" onClick={onStop}>
        {t('change:stop')}
      </button>
    </Page>
  );
}

interface StaleProps extends Pick<RestedProps, 'wound' | 'draft' | 'over' | 'zone' | 'failed'> {
  busy: boolean;
  onEnd: () => void;
}

/** A change of another day: its check says nothing about today, so it goes into the log as stopped. */
export function Stale({ wound, draft, over, zone, failed, busy, onEnd }: StaleProps) {
  return (
    <Page
      title={t('change:stale.title', { day: formatDay(localDay(Date.parse(draft.startedAt), zone)) })}
      over={over}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(onEnd, busy)}>
            {t('change:stale.end')}
          </button>
        </>
      }
    >
      {woundStands(wound, draft) === 'open' && <p class="lead">{t('change:stale.open')}</p>}
      <p>{t('change:stale.text')}</p>
    </Page>
  );
}
