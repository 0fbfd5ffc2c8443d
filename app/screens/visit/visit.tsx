import './visit-screen.css';
import { useState } from 'preact/hooks';
import { standing } from '../../care/log/timeline.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { VisitSheet } from '../../parts/visit/sheet.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { unitsOf } from '../units.ts';
import { daysOfChoice, useChoice } from './choice.ts';
import { Choose } from './choose.tsx';
import { HandedScreen } from './handed.tsx';
import { usePhotos } from './use-photos.ts';
import { useSecond, useSummary } from './use-summary.ts';

/** The page for the appointment, or that page alone while the phone is in other hands. */
export function VisitScreen() {
  const { state } = useBook();
  const { handed } = state.settings;
  return handed ? <HandedScreen handed={handed} /> : <OwnScreen />;
}

/** The page as its owner sees it: to read, to add questions, to print, to hand over. */
function OwnScreen() {
  const { notebook, state, book } = useBook();
  const [choice, choose] = useChoice(book.id);
  const [failed, setFailed] = useState(false);
  const { from, to } = daysOfChoice(choice, notebook.today());
  const summary = useSummary(from, to);
  const photos = usePhotos(summary);
  const second = useSecond(choice.second);
  const handOver = () => {
    const handed = { book: book.id, ...(from && { from }), ...(to && { to }), ...(choice.second && { second: choice.second }) };
    void notebook.saveSettings({ handed }).catch(() => setFailed(true));
  };
  return (
    <Page
      title={t('visit:title')}
      class="visit-page"
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          <p class="hint">{t('visit:handHint')}</p>
          <button type="button" class="button button-main" disabled={!summary} onClick={handOver}>
            {t('visit:hand')}
          </button>
        </>
      }
    >
      <p class="lead">{t('visit:lead')}</p>
      {!summary && <p role="status">{t('visit:making')}</p>}
      {summary && (
        <>
          <Choose
            choice={choice}
            period={summary.period}
            today={notebook.today()}
            hasPhotos={summary.wounds.some((w) => w.photos.latest !== undefined)}
            onChoose={choose}
          />
          <VisitSheet
            summary={summary}
            units={unitsOf(state)}
            second={second}
            photos={photos}
            printPhotos={choice.printPhotos}
            underQuestions={
              <a class="button button-second visit-tools" href="#/note/visit">
                {t('visit:ask')}
              </a>
            }
          />
          <div class="stack visit-tools">
            <button type="button" class="button button-second" onClick={() => window.print()}>
              {t('visit:print')}
            </button>
            <WasThere />
          </div>
        </>
      )}
    </Page>
  );
}

/** Writes down that the person was at the clinic today; the next page begins there. A slip can be taken back. */
function WasThere() {
  const { notebook, state } = useBook();
  const [failed, setFailed] = useState(false);
  const today = standing(state.entries, 'visit').filter((e) => e.first.day === notebook.today());
  const write = (records: Parameters<typeof notebook.append>[0]) => {
    setFailed(false);
    void notebook.append(records).catch(() => setFailed(true));
  };
  return (
    <>
      <NotSaved when={failed} />
      {today.length === 0 ? (
        <>
          <button
            type="button"
            class="button button-second"
            aria-describedby="visit-was-why"
            onClick={() => write([{ ...notebook.stamp(), kind: 'visit' }])}
          >
            {t('visit:was')}
          </button>
          <p class="hint" id="visit-was-why">
            {t('visit:wasWhy')}
          </p>
        </>
      ) : (
        <>
          <p role="status">{t('visit:wasSaved')}</p>
          <button
            type="button"
            class="button button-quiet"
            onClick={() => write(today.map((e) => ({ ...notebook.stamp(), kind: 'void', target: e.first.id })))}
          >
            {t('visit:wasNot')}
          </button>
        </>
      )}
    </>
  );
}
