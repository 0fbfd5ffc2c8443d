import { cleanup, render } from '@testing-library/preact';
import { userEvent } from '@testing-library/user-event';
import type { VNode } from 'preact';
import { mildestAnswers } from '../../app/care/check/answers.ts';
import { checkItems, type ItemAnswers } from '../../app/care/check/items.ts';
import type { LogRecord, RecordKind, RecordOf } from '../../app/care/log/records.ts';
import type { Plan } from '../../app/care/plan/plan.ts';
import { NotebookContext } from '../../app/screens/context.ts';
import { acceptPlan } from '../../app/store/accept-plan.ts';
import type { Notebook } from '../../app/store/notebook.ts';
import { AREAS, loadAreas, words } from '../../app/words/i18n.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { type FakeDevice, fakeDevice, newShelf, openTab } from '../store/phone.ts';

/** A phone with a plan in force, and one screen of the app on it. */
export interface Stage {
  notebook: Notebook;
  device: FakeDevice;
  user: ReturnType<typeof userEvent.setup>;
  /** Puts another screen on. */
  show(screen: VNode): void;
  /** The records of one kind, in the order they were written. */
  written<K extends RecordKind>(kind: K): RecordOf<K>[];
}

/** Tuesday 4 March 2031, 09:00 in Chicago: the demo clinic is open. */
export const TUESDAY = '2031-03-04T15:00:00Z';
/** The Saturday after, 09:00: it is closed until Monday. */
export const SATURDAY = '2031-03-08T15:00:00Z';

interface Options {
  plan?: Plan;
  time?: string;
  records?: LogRecord[];
}

export async function stage({ plan = demoPlan(), time = TUESDAY, records = [] }: Options = {}): Promise<Stage> {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
  location.hash = '';
  const device = fakeDevice(time);
  const notebook = await openTab(newShelf(), device);
  await acceptPlan(notebook, plan);
  if (records.length > 0) await notebook.append(records);
  return {
    notebook,
    device,
    user: userEvent.setup(),
    show: (screen) => {
      cleanup();
      render(<NotebookContext.Provider value={notebook}>{screen}</NotebookContext.Provider>);
    },
    written: (kind) => notebook.state.records.filter((r) => r.kind === kind) as never,
  };
}

/** The mildest answer to every question of the daily check, by item key. */
export function mildItems(plan: Plan = demoPlan()): ItemAnswers {
  const mild = mildestAnswers();
  return Object.fromEntries(
    checkItems(plan).flatMap(({ key, question }) => (mild[question.id] === undefined ? [] : [[key, mild[question.id]]])),
  );
}
