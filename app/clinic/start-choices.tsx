import { useState } from 'preact/hooks';
import { EMPTY_VIEW } from '../care/plan/clinic-view.ts';
import { nextRevision } from '../care/plan/draft.ts';
import type { Clinic } from '../care/plan/plan.ts';
import { blankPlan, type StartingPoint, startingPlan } from '../care/plan/starting-plan.ts';
import type { LocalDay } from '../care/schedule/day.ts';
import { looksLikeBook } from '../exchange/book-file.ts';
import { demoPlan } from '../exchange/demo-plan.ts';
import { arrivalFromText } from '../exchange/plan-file.ts';
import type { ClinicKeys } from '../exchange/signature.ts';
import { faultLines } from '../words/faults.ts';
import { t, words } from '../words/i18n.ts';
import type { DeskState } from './desk-state.ts';
import { supplyName } from './supply-words.ts';

interface Props {
  today: LocalDay;
  /** What this device kept of the clinic. */
  clinic: Partial<Clinic> | undefined;
  keys: ClinicKeys | undefined;
  onStart: (state: DeskState) => void;
  /** Leads to where a log is opened. */
  onRead: () => void;
}

/** Ids without meaning; short, because they travel in the code. */
const newId = (): string => `t${crypto.randomUUID().replaceAll('-', '').slice(0, 12)}`;

/** No plan comes near this size; a larger file is something else. */
const FILE_MOST = 2_000_000;

/** What a clinician may have seen of the demo's wound. */
const DEMO_SEEN: DeskState['seen'] = {
  w1: { ...EMPTY_VIEW, drainage: 'light', drainageKind: 'clear', bed: ['red'], skinAround: ['healthy'] },
};

/** How a plan begins: proposed, blank, from an earlier one, or as the demo. */
export function StartChoices({ today, clinic, keys, onStart, onRead }: Props) {
  const [failed, setFailed] = useState<readonly string[]>([]);
  const begin = (proposed: boolean) => {
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    const language = words.language;
    const start: StartingPoint = {
      id: newId(),
      person: { id: newId(), callMe: '', language },
      clinic,
      zone,
      issued: today,
      wounds: [{ id: 'w1', view: EMPTY_VIEW }],
    };
    const draft = proposed ? startingPlan(start, (need) => supplyName(need, language)) : blankPlan(start);
    onStart({ draft, seen: {}, follows: proposed ? ['w1'] : [], onHand: {} });
  };
  const open = async (text: string, asNext: boolean, seen: DeskState['seen'] = {}) => {
    const arrival = await arrivalFromText(text, keys ? [keys.publicKey] : []);
    if (!arrival.ok) {
      const why = arrival.why;
      return setFailed(why === 'faults' ? faultLines(arrival.faults) : [t(`clinic:start.fault.${why}`)]);
    }
    const draft = asNext ? nextRevision(arrival.plan, today) : arrival.plan;
    onStart({ draft, seen, follows: [], onHand: {} });
  };
  const fromFile = async (file: File | undefined) => {
    if (!file) return;
    // A log may be larger than any plan.
    if (await looksLikeBook(file)) return setFailed([t('clinic:start.fault.log')]);
    if (file.size > FILE_MOST) return setFailed([t('clinic:start.fault.tooLong')]);
    await open(await file.text(), true);
  };
  return (
    <div class="start">
      <h1>{t('clinic:start.title')}</h1>
      <p class="lead">{t('clinic:start.lead')}</p>
      {failed.length > 0 && (
        <div class="error" role="alert">
          {failed.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      )}
      <div class="start-ways">
        <button type="button" class="start-way" onClick={() => begin(true)}>
          <strong>{t('clinic:start.proposed')}</strong>
          <span>{t('clinic:start.proposedHint')}</span>
        </button>
        <button type="button" class="start-way" onClick={() => begin(false)}>
          <strong>{t('clinic:start.blank')}</strong>
          <span>{t('clinic:start.blankHint')}</span>
        </button>
        <label class="start-way file">
          <strong>{t('clinic:start.earlier')}</strong>
          <span>{t('clinic:start.earlierHint')}</span>
          <input type="file" accept=".json,.txt,application/json,text/plain" onChange={(e) => void fromFile(e.currentTarget.files?.[0])} />
        </label>
        <button
          type="button"
          class="start-way"
          onClick={() => void demoPlan(today, words.language).then((text) => open(text, false, DEMO_SEEN))}
        >
          <strong>{t('clinic:start.demo')}</strong>
          <span>{t('clinic:start.demoHint')}</span>
        </button>
      </div>
      <h2>{t('clinic:start.visit')}</h2>
      <div class="start-ways">
        <button type="button" class="start-way" onClick={onRead}>
          <strong>{t('clinic:readLog.title')}</strong>
          <span>{t('clinic:start.readHint')}</span>
        </button>
      </div>
      <p class="f-hint">{t('clinic:start.keeps')}</p>
    </div>
  );
}
