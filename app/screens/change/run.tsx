import { useState } from 'preact/hooks';
import { stepsAfterLook } from '../../care/change/sequence.ts';
import type { Answers } from '../../care/check/answers.ts';
import { lookQuestions } from '../../care/check/items.ts';
import { byAnswers } from '../../care/escalation/judge.ts';
import { isAtLeast } from '../../care/escalation/levels.ts';
import type { Judgement } from '../../care/log/records.ts';
import { standingOne } from '../../care/log/timeline.ts';
import { callOfBand } from '../../care/plan/band-calls.ts';
import type { Wound } from '../../care/plan/plan.ts';
import type { ChangeDraft } from '../../store/drafts.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { alertFor, judgeLook } from '../sitting.ts';
import { takeBackChange } from '../take-back.ts';
import { amountOf, recordsOfChange, stepsOf } from './finished.ts';
import { Interrupt } from './interrupt.tsx';
import { Look } from './look.tsx';
import { Rested, Stale, usePause, woundStands } from './pause.tsx';
import { Step } from './step.tsx';
import { StopChange } from './stop.tsx';
import { useWakeLock } from './wake-lock.ts';

interface Props {
  wound: Wound;
  draft: ChangeDraft;
  /** Told when the change is being written, and with nothing when it could not be. */
  onFinished: (draft: ChangeDraft | undefined) => void;
}

/** Whether what was seen of the open wound asks for a call: it does so too where the change is broken off. */
const showsCall = (judgement: Judgement, draft: ChangeDraft): boolean =>
  judgement.fired.some(
    (r) => isAtLeast(r.level, 'callToday') && r.findings.some((f) => draft.answers[f.split(':')[0] as string] !== undefined),
  );

/** A change under way. Everything is in the draft, so leaving and coming back resumes at the same step. */
export function ChangeRun({ wound, draft, onFinished }: Props) {
  const { notebook, state, book } = useBook();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const [stopping, setStopping] = useState(false);
  const pause = usePause(notebook, draft);
  useWakeLock();

  const amount = amountOf(draft);
  const looked = draft.path !== undefined;
  const { before, steps } = stepsOf(wound, draft);
  const current = steps[draft.position];
  const check = standingOne(state.entries, 'check', draft.check);

  const save = (part: Partial<ChangeDraft>): ChangeDraft => {
    const next = { ...draft, ...part, savedAt: new Date(notebook.device.now()).toISOString() };
    void notebook.saveChangeDraft(next).catch(() => setFailed(true));
    return next;
  };

  const judgeNow = (answers: Record<string, unknown>): Judgement => judgeLook(notebook, wound, check, answers as Answers, [draft.id]);

  /** Raises the alert a judgement calls for, at once. @returns its id. */
  const raise = async (judgement: Judgement): Promise<string | undefined> => {
    const alert = alertFor(notebook, judgement, draft.id);
    if (alert) await notebook.append([alert]);
    return alert?.id;
  };

  /** After each answer of the look: a grave one stops the look. */
  const onLooked = async (look: number, finished: boolean) => {
    const judgement = judgeNow(draft.answers);
    const answered = byAnswers(judgement);
    const grave = answered.fired.some((r) => isAtLeast(r.level, 'callNow')) && alertFor(notebook, answered, draft.id) !== undefined;
    const seen = { ...draft.states, look: { state: 'done' as const } };
    setBusy(true);
    try {
      if (grave) {
        const alert = await raise(judgement);
        save({ look, asked: draft.look, interrupted: true, alert, states: seen });
      } else if (finished) {
        const { path } = stepsAfterLook(wound, amount);
        const alert = await raise(judgement);
        save({ look, path, position: before.length, alert: alert ?? draft.alert, states: seen });
      } else {
        save({ look });
      }
    } catch {
      setFailed(true);
    }
    setBusy(false);
  };

  /** A slip of the finger: the alert is withdrawn, not erased, and the question is asked again. */
  const takeBack = async () => {
    try {
      await takeBackChange(notebook, draft);
    } catch {
      setFailed(true);
    }
  };

  const finish = async (states: ChangeDraft['states'], stopped: boolean) => {
    setBusy(true);
    onFinished(draft);
    try {
      const hasAnswers = Object.values(draft.answers).some((a) => a !== undefined);
      const judgement = hasAnswers ? judgeNow(draft.answers) : undefined;
      const alert =
        stopped && judgement && !draft.alert && showsCall(judgement, draft) ? alertFor(notebook, judgement, draft.id) : undefined;
      await notebook.append([...(alert ? [alert] : []), ...recordsOfChange(notebook, wound, draft, { states, stopped, judgement })]);
      await notebook.dropDraftOf('change');
      if (stopped) go('today');
      else replace('changed', draft.id);
    } catch {
      onFinished(undefined);
      setFailed(true);
      setBusy(false);
    }
  };

  const about = book.plan.wounds.length > 1 ? woundName(wound) : undefined;
  if (stopping) {
    return (
      <StopChange
        stands={woundStands(wound, draft)}
        over={about}
        busy={busy}
        onStay={() => setStopping(false)}
        onLater={() => {
          save({});
          go('today');
        }}
        onStop={() => void finish(draft.states, true)}
      />
    );
  }
  const left = { wound, draft, over: about, zone: notebook.device.zone(), failed };
  if (pause === 'stale') return <Stale {...left} busy={busy} onEnd={() => void finish(draft.states, true)} />;
  if (draft.interrupted) {
    return (
      <Interrupt
        alertId={draft.alert}
        onCover={() => save({ interrupted: undefined, path: 'coverAndCall', position: before.length })}
        onWrong={() => void takeBack()}
      />
    );
  }
  if (pause) return <Rested {...left} onGoOn={() => save({})} onStop={() => setStopping(true)} />;
  if (!current) return null;
  const back = () => {
    if (current.step === 'look' && draft.look > 0) save({ look: draft.look - 1 });
    else if (draft.position > 0)
      save({ position: draft.position - 1, ...(draft.position === before.length ? { look: lookQuestions().length } : {}) });
    else go('today');
  };
  const shared = {
    wound,
    about,
    draft,
    busy,
    failed,
    at: draft.position + 1,
    of: steps.length,
    onBack: back,
    onStop: () => setStopping(true),
  };
  if (current.step === 'look') {
    return (
      <Look
        {...shared}
        onAnswer={(id, answer) => save({ answers: { ...draft.answers, [id]: answer } })}
        onNext={(look, finished) => void onLooked(look, finished)}
        onSkipIntro={() => save({ look: 1 })}
      />
    );
  }
  // Told once, before the new dressing is laid on: the recipe alone would look as if all were as planned.
  const tells = draft.path !== 'coverAndCall' && draft.position === before.length && amount !== undefined && amount !== 'unsure';
  return (
    <Step
      {...shared}
      key={current.step}
      current={current}
      short={draft.path === 'coverAndCall'}
      recipeBand={amount === 'unsure' ? undefined : amount}
      call={tells ? callOfBand(book.plan, wound, amount) : undefined}
      last={looked && draft.position === steps.length - 1}
      onGather={(gathered) => save({ gathered })}
      onDone={(stepState) => {
        const states = { ...draft.states, [current.step]: stepState };
        if (looked && draft.position === steps.length - 1) void finish(states, false);
        else save({ states, position: draft.position + 1 });
      }}
    />
  );
}
