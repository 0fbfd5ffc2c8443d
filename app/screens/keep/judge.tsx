import { useEffect, useState } from 'preact/hooks';
import { type Conflict, choicesOf, conflicts, entriesOf, keepAll, keepOne } from '../../care/log/conflicts.ts';
import type { LogRecord } from '../../care/log/records.ts';
import type { Entry } from '../../care/log/timeline.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { Choices } from '../../parts/choice.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatDay, formatNumber, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { unitsOf } from '../units.ts';
import { choiceText, supplyName, whoAndWhen } from './choice-words.ts';

/** All of the log, read anew whenever it changes. */
function useRecords(): readonly LogRecord[] | undefined {
  const { notebook, state, book } = useBook();
  const [records, setRecords] = useState<readonly LogRecord[] | undefined>();
  useEffect(() => {
    let current = true;
    void notebook.wholeLog(book.id).then((log) => current && setRecords(log.records));
    return () => {
      current = false;
    };
  }, [notebook, book.id, state.records]);
  return records;
}

/** What two phones wrote that does not go together, one thing at a time, the oldest first. */
export function JudgeScreen() {
  const records = useRecords();
  const [later, setLater] = useState<readonly string[]>([]);
  if (!records) return <Page title={t('common:wait')} />;
  const all = conflicts(records);
  const open = all.filter((c) => !later.includes(c.key));
  const [first] = open;
  if (!first) return <Nothing left={all.length} />;
  return (
    <Judge
      key={first.key}
      conflict={first}
      records={records}
      at={all.length - open.length + 1}
      of={all.length}
      onLater={() => setLater([...later, first.key])}
    />
  );
}

function Nothing({ left }: { left: number }) {
  return (
    <Page
      title={t('keep:judge.title')}
      back={() => go('keep')}
      foot={
        <button type="button" class="button button-main" onClick={() => go('today')}>
          {t('common:toToday')}
        </button>
      }
    >
      <p class="lead">{left > 0 ? t('keep:judge.left', { count: left }) : t('keep:judge.nothing')}</p>
    </Page>
  );
}

interface Props {
  conflict: Conflict;
  records: readonly LogRecord[];
  at: number;
  of: number;
  onLater: () => void;
}

const ALL = 'all';

function Judge({ conflict, records, at, of, onLater }: Props) {
  const { notebook, state, book } = useBook();
  const [chosen, setChosen] = useState<string | undefined>();
  const [complain, setComplain] = useState(false);
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const choices = choicesOf(conflict);
  const save = async () => {
    const one = choices.find((r) => r.id === chosen);
    if (!one && chosen !== ALL) return setComplain(true);
    setBusy(true);
    try {
      const stamp = () => notebook.stamp();
      const made = one ? keepOne(conflict, one, records, stamp) : conflict.kind === 'corrected' ? [] : keepAll(conflict, stamp);
      await notebook.append(made);
    } catch {
      setFailed(true);
    }
    setBusy(false);
  };
  const about = aboutText(conflict, records, book.plan);
  return (
    <Page
      title={t(`keep:judge.kind.${conflict.kind}.title`)}
      over={`${t('common:progress', { at: formatNumber(at), of: formatNumber(of) })} · ${about}`}
      back={() => go('keep')}
      focusKey={conflict.key}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(() => void save(), busy)}>
            {t('common:save')}
          </button>
          <button type="button" class="button button-quiet" onClick={onLater}>
            {t('keep:judge.later')}
          </button>
        </>
      }
    >
      <p class="lead">{t(`keep:judge.kind.${conflict.kind}.text`)}</p>
      <Choices
        legend={t(`keep:judge.kind.${conflict.kind}.title`)}
        choices={[
          ...choices.map((record) => ({
            value: record.id,
            label: choiceText(record, conflict, choices, book.plan, unitsOf(state).length),
            hint: whoAndWhen(record, state.settings.device),
          })),
          ...(conflict.kind === 'corrected' ? [] : [{ value: ALL, label: t('keep:judge.both') }]),
        ]}
        chosen={chosen ? [chosen] : []}
        error={complain && !chosen ? t('keep:judge.choose') : undefined}
        onChange={([value]) => setChosen(value)}
      />
      <p class="hint">{t('keep:judge.stays')}</p>
    </Page>
  );
}

/** What it is about and of which day. */
function aboutText(conflict: Conflict, records: readonly LogRecord[], plan: Plan): string {
  const [entry] = entriesOf(conflict) as readonly [Entry, ...Entry[]];
  const day = formatDay(entry.first.day, 'short');
  if (conflict.kind === 'counted') return inARow([supplyName(conflict.item, plan, records), day]);
  const wound = conflict.kind === 'changed' ? plan.wounds.find((w) => w.id === conflict.wound) : undefined;
  return wound ? inARow([woundName(wound), day]) : day;
}
