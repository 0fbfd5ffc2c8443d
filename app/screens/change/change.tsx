import { useState } from 'preact/hooks';
import { stepsAfterLook, stepsToLook } from '../../care/change/sequence.ts';
import { isWholeCheck } from '../../care/check/items.ts';
import type { CheckRecord } from '../../care/log/records.ts';
import { standing } from '../../care/log/timeline.ts';
import type { Plan, Wound } from '../../care/plan/plan.ts';
import { Drawing } from '../../parts/drawing.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import type { ChangeDraft } from '../../store/drafts.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { woundsDue } from '../due.ts';
import { go, replace } from '../route.ts';
import { ChangeRun } from './run.tsx';

/** A dressing change: choose the wound, do the check first, then step by step. */
export function ChangeScreen({ woundId }: { woundId: string | undefined }) {
  const { notebook, state, book } = useBook();
  // Once it is being written, what is on screen stays until the next page: the start of a new change would flash up.
  const [finished, setFinished] = useState<ChangeDraft | undefined>();
  const draft = finished ?? state.changeDraft;
  const { wounds } = book.plan;
  const wound = wounds.find((w) => w.id === (draft?.wound ?? woundId)) ?? (wounds.length === 1 ? wounds[0] : undefined);

  if (!wound) return <ChooseWound wounds={wounds} due={woundsDue(notebook)} />;
  if (draft) return <ChangeRun key={draft.id} wound={wound} draft={draft} onFinished={setFinished} />;
  const check = freshCheck(book.plan, state.entries, notebook.today(), wound.id);
  if (!check) return <CheckFirst again={standing(state.entries, 'check').some((e) => e.first.day === notebook.today())} />;
  return <StartChange wound={wound} check={check} />;
}

/** Today's check, unless a change of this wound has used it: each change has a check of its own. */
function freshCheck(plan: Plan, entries: Parameters<typeof standing>[0], today: string, wound: string): CheckRecord | undefined {
  const used = standing(entries, 'change')
    .filter((e) => e.now.wound === wound)
    .map((e) => e.now.check);
  const checks = standing(entries, 'check').filter((e) => e.first.day === today && !used.includes(e.first.id) && isWholeCheck(plan, e.now));
  const latest = checks.at(-1);
  return latest && { ...latest.now, id: latest.first.id };
}

function ChooseWound({ wounds, due }: { wounds: readonly Wound[]; due: readonly Wound[] }) {
  return (
    <Page title={t('change:whichWound')} back={() => go('today')}>
      <ul class="rows">
        {wounds.map((w) => (
          <li key={w.id}>
            <a class="row" href={`#/change/${w.id}`}>
              <span>{woundName(w)}</span>
              {due.includes(w) && <span class="row-more">{t('change:isDue')}</span>}
            </a>
          </li>
        ))}
      </ul>
    </Page>
  );
}

function CheckFirst({ again }: { again: boolean }) {
  return (
    <Page
      title={t(again ? 'change:newCheckFirst' : 'change:checkFirst')}
      back={() => go('today')}
      foot={
        <a class="button button-main" href="#/check">
          {t(again ? 'change:newCheckStart' : 'today:startCheck')}
        </a>
      }
    >
      <Drawing name="footCheck" />
      <p class="lead">{t('change:checkFirstWhy')}</p>
    </Page>
  );
}

function StartChange({ wound, check }: { wound: Wound; check: CheckRecord }) {
  const { notebook } = useBook();
  const [failed, setFailed] = useState(false);
  const count = stepsToLook(wound).length + stepsAfterLook(wound, wound.expectedDrainage[0]).steps.length;
  const start = async () => {
    try {
      await notebook.saveChangeDraft({
        id: notebook.device.newId(),
        startedAt: new Date(notebook.device.now()).toISOString(),
        wound: wound.id,
        check: check.id,
        position: 0,
        look: 0,
        answers: {},
        path: undefined,
        asked: undefined,
        interrupted: undefined,
        alert: undefined,
        gathered: [],
        states: {},
      });
      replace('change', wound.id);
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('change:title')}
      over={woundName(wound)}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" onClick={() => void start()}>
            {t('change:start')}
          </button>
        </>
      }
    >
      <Drawing name={wound.keepDry ? 'dryDressing' : 'dressingSeen'} />
      <p class="lead">{t('change:intro', { count })}</p>
      <p>{t('change:introStop')}</p>
      <p>{t('change:phone')}</p>
      <a class="button button-quiet" href="#/settings/wideNext">
        {t('change:phoneButton')}
      </a>
      {wound.keepDry && <p class="notice">{t('change:keepDry')}</p>}
    </Page>
  );
}
