import { useState } from 'preact/hooks';
import { wearEstimate } from '../../care/drainage/wear.ts';
import { weighingsOf } from '../../care/drainage/weighing.ts';
import { wornFrom } from '../../care/drainage/worn.ts';
import { familyOf } from '../../care/dressings/families.ts';
import { sizesOf } from '../../care/healing/sizes.ts';
import type { Spread } from '../../care/healing/spread.ts';
import type { RecordOf } from '../../care/log/records.ts';
import { standing } from '../../care/log/timeline.ts';
import { wornDressings } from '../../care/log/worn.ts';
import { Choices } from '../../parts/choice.tsx';
import { wearText, weighedText } from '../../parts/drainage-findings.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import type { WeighDraft } from '../../store/drafts.ts';
import { formatNumber, parseNumber, weightSign } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { goBack } from '../route.ts';
import { useCalm } from '../use-calm.ts';
import { weighingLines } from '../weighing-lines.ts';
import { isComplete, PageFields } from './fields.tsx';
import { chosenWorn, MOST_HOURS, PAGES, type Typed, typedIn, type WeighPage, weighingOf } from './weighing.ts';

/** So many of the last dressings can be chosen from. */
const WORN_SHOWN = 3;

/**
 * Weighs a dressing, one question a page: dry, used, the scale's step, the
 * hours. It may be left at any page and taken up again, even days later.
 * @param woundId of the wound to begin with.
 */
export function WeighScreen({ woundId }: { woundId?: string | undefined }) {
  const { notebook, state, book } = useBook();
  // On a wound that must stay dry any fluid is a call; there is nothing to weigh.
  const wounds = book.plan.wounds.filter((w) => !w.keepDry);
  const [saved, setSaved] = useState<RecordOf<'weighing'> | undefined>();
  const [complain, setComplain] = useState<WeighPage | undefined>();
  const [busy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);

  const stored = state.weighDraft;
  // A draft whose record is written already was only not cleared away.
  const draft: WeighDraft | undefined = stored && !state.records.some((r) => r.id === stored.id) ? stored : undefined;
  const page = PAGES.find((p) => p === draft?.at) ?? 'start';
  const index = PAGES.indexOf(page);
  const typed = typedIn(draft);
  const wound = wounds.find((w) => w.id === (draft?.wound ?? woundId)) ?? wounds[0];
  const isCalm = useCalm(page);

  if (!wound) {
    return (
      <Page title={t('course:weigh.title')} back={() => goBack('course')}>
        <p class="lead">{t('course:weigh.keepDry')}</p>
      </Page>
    );
  }
  if (saved) return <Saved record={saved} />;

  const worn = wornDressings(state.entries, wound.id, notebook.device.now(), MOST_HOURS).slice(0, WORN_SHOWN);

  const save = (part: Partial<Pick<WeighDraft, 'at' | 'wound'>> & { typed?: Partial<Typed> }): void => {
    const { typed: changed, ...rest } = part;
    const started = draft ?? {
      id: notebook.device.newId(),
      startedAt: new Date(notebook.device.now()).toISOString(),
      wound: wound.id,
      answers: {},
    };
    setFailed(false);
    void notebook.saveWeighDraft({ ...started, ...rest, answers: { ...started.answers, ...changed } }).catch(() => setFailed(true));
  };

  const turnTo = (next: WeighPage) => {
    setComplain(undefined);
    // The dressing taken off last is the likely one; the person may say otherwise.
    const likely = next === 'hours' && typed.worn === '' && typed.hours === '' ? worn[0] : undefined;
    save({ at: next, ...(likely ? { typed: chosenWorn(likely) } : {}) });
  };

  const finish = async () => {
    const record = draft && weighingOf(typed, wound.id, notebook.stamp(draft.id));
    if (!record) return setComplain(page);
    setBusy(true);
    try {
      await notebook.append([record]);
      setSaved(record);
      await notebook.dropDraftOf('weigh');
    } catch {
      setFailed(true);
    }
    setBusy(false);
  };

  const onNext = () => {
    const next = PAGES[index + 1];
    if (!next) return void finish();
    if (!isComplete(page, typed)) return isCalm() ? setComplain(page) : undefined;
    turnTo(next);
  };
  const before = PAGES[index - 1];

  return (
    <Page
      title={t(`course:weigh.page.${page}.ask`)}
      focusKey={page}
      over={
        <>
          <span>{t('common:progress', { at: formatNumber(index + 1), of: formatNumber(PAGES.length) })}</span>
          {book.plan.wounds.length > 1 && page !== 'start' && <span class="about">{woundName(wound)}</span>}
        </>
      }
      progress={(index + 1) / PAGES.length}
      back={() => (before ? turnTo(before) : goBack('course'))}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(onNext, busy)}>
            {t(page === 'look' ? 'common:save' : 'common:next')}
          </button>
          {page === 'look' && (
            <button
              type="button"
              class="button button-quiet"
              {...press(() => {
                void notebook.dropDraftOf('weigh').then(
                  () => goBack('course'),
                  () => setFailed(true),
                );
              }, busy)}
            >
              {t('course:weigh.drop')}
            </button>
          )}
        </>
      }
    >
      {page === 'start' && wounds.length > 1 && (
        <Choices
          legend={t('course:whichWound')}
          choices={wounds.map((w) => ({ value: w.id, label: woundName(w) }))}
          chosen={[wound.id]}
          // Another wound had other dressings.
          onChange={([id]) => save({ wound: id ?? wound.id, typed: { worn: '', hours: '' } })}
        />
      )}
      <PageFields
        page={page}
        typed={typed}
        worn={worn}
        complain={complain === page}
        onType={(part) => save({ typed: part })}
        onTurn={turnTo}
      />
    </Page>
  );
}

/** What was saved, as plain facts. */
function Saved({ record }: { record: RecordOf<'weighing'> }) {
  const { notebook, state, book } = useBook();
  const now = notebook.device.now();
  const sizes = sizesOf(state.entries, book.plan.wounds.find((w) => w.id === record.wound) ?? { id: record.wound }, now);
  const result = weighingsOf(state.entries, record.wound, sizes, now).find((w) => w.id === record.id)?.result;
  return (
    <Page
      title={t('course:weigh.saved')}
      back={() => goBack('course')}
      foot={
        <button type="button" class="button button-main" onClick={() => goBack('course')}>
          {t('common:done')}
        </button>
      }
    >
      <p class="lead" role="status">
        {t('course:weigh.savedText')}
      </p>
      <dl class="answers">
        {weighingLines(record).map(({ name, value }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {result && weighedText(result).map((line) => <p key={line}>{line}</p>)}
      {result?.kind === 'rate' && <Wear record={record} gPerDay={result.gPerDay} />}
      <p>{t('course:weigh.after')}</p>
    </Page>
  );
}

/**
 * An estimate of how long the dressing lasts, for families with a figure: asked
 * for with the weight of the one layer that takes up the fluid, and not recorded.
 */
function Wear({ record, gPerDay }: { record: RecordOf<'weighing'>; gPerDay: Spread }) {
  const { state, book } = useBook();
  const [typed, setTyped] = useState('');
  const wound = book.plan.wounds.find((w) => w.id === record.wound);
  const changes = standing(state.entries, 'change').filter((e) => e.now.wound === record.wound && !e.now.stopped);
  const off = changes.findLastIndex((e) => (record.change ? e.first.id === record.change : true));
  const on = changes[off - 1]?.now;
  const worn = wound && on && wornFrom(on, wound);
  if (!worn?.works || familyOf(worn.works).timesOwnWeight === undefined) return null;
  const estimate = wearEstimate(worn.works, parseNumber(typed) ?? 0, gPerDay, worn.recipe.change);
  const text = wearText(estimate);
  return (
    <>
      <NumberField
        label={t('course:wear.layer', { dressing: t(`common:family.${worn.works}`) })}
        hint={t('course:wear.hint')}
        value={typed}
        unit={weightSign()}
        onChange={setTyped}
      />
      {text && <p role="status">{text}</p>}
    </>
  );
}
