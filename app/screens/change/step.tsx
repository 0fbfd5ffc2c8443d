import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { dressingOf, type GatherLine, gatherList, nearList, needsScissors, type SequenceStep } from '../../care/change/sequence.ts';
import { HAND_WASH_SECONDS, type StepId } from '../../care/change/steps.ts';
import type { Band } from '../../care/check/questions.ts';
import { lastFound } from '../../care/log/history.ts';
import type { CallLevel } from '../../care/plan/band-calls.ts';
import { likelyRecipe } from '../../care/plan/likely-recipe.ts';
import { type Recipe, recipeFor, type Wound } from '../../care/plan/plan.ts';
import { Drawing } from '../../parts/drawing.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { WordsField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import type { ChangeDraft } from '../../store/drafts.ts';
import { callText } from '../../words/call-text.ts';
import { formatNumber } from '../../words/format.ts';
import { hasWords, t } from '../../words/i18n.ts';
import { dressingName } from '../../words/names.ts';
import { stepMeans } from '../../words/steps.ts';
import { useBook } from '../context.ts';
import { unitsOf } from '../units.ts';
import { HandTimer } from './hand-timer.tsx';
import { StepOver } from './step-over.tsx';

interface Props {
  wound: Wound;
  /** Which wound it is, where the plan has several. */
  about?: string | undefined;
  draft: ChangeDraft;
  current: SequenceStep;
  /** The short path: cover dry, then call. */
  short: boolean;
  recipeBand: Band | undefined;
  /** At the first step after the look: the amount found means a call, though it has a recipe. */
  call?: CallLevel | undefined;
  busy: boolean;
  failed: boolean;
  last: boolean;
  at: number;
  of: number;
  onBack: () => void;
  onStop: () => void;
  onGather: (gathered: string[]) => void;
  onDone: (state: { state: 'done' | 'different'; note?: string }) => void;
}

const DRAWINGS: Partial<Record<StepId, string>> = { washHandsAgain: 'washHands', freshGloves: 'gloves' };
/** How each way of holding a dressing looks; a hand that lays it on where no bandage is wound. */
const HOLDS: Record<Recipe['fixation'], string> = {
  none: 'cover',
  tape: 'cover',
  rollBandage: 'fix',
  tubularBandage: 'cover',
  adhesiveBorder: 'fixBorder',
};

function pictureOf(step: StepId, recipe: Recipe | undefined, short: boolean): string {
  if (short && step === 'dryDressing') return 'cover';
  return step === 'fix' && recipe ? HOLDS[recipe.fixation] : (DRAWINGS[step] ?? step);
}

/** One step of a change: a picture, what to do, the clinic's own note. */
export function Step(props: Props) {
  const { wound, draft, current, short, busy, failed, last, at, of, onBack, onStop, onDone } = props;
  const { notebook, state } = useBook();
  const [different, setDifferent] = useState<string | undefined>(draft.states[current.step]?.note);
  const { step } = current;
  const recipe = short
    ? undefined
    : props.recipeBand
      ? recipeFor(wound, props.recipeBand)
      : likelyRecipe(wound, lastFound(state.entries, wound.id, notebook.device.now()))?.recipe;
  const done = () =>
    onDone(
      different === undefined
        ? { state: 'done' }
        : different.trim()
          ? { state: 'different', note: different.trim() }
          : { state: 'different' },
    );
  const words = { step, recipe, short, keepDry: wound.keepDry };
  const note = current.note && (
    <blockquote class="clinic-note">
      <p dir="auto">{current.note}</p>
      <footer>{t('change:clinicSays')}</footer>
    </blockquote>
  );
  return (
    <Page
      title={t(`change:step.${step}.title`)}
      focusKey={step}
      over={<StepOver at={at} of={of} about={props.about} />}
      progress={at / of}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" {...press(done, busy)}>
            {last ? t('change:finish') : t('change:doneNext')}
          </button>
        </>
      }
    >
      {props.call && <p class="notice">{callText(true, props.call)}</p>}
      {step === 'remove' ? (
        <>
          {/* What may go wrong stands before the picture: on a small screen it would be below the fold. */}
          <StepWords {...words} />
          <p class="notice">{t(wound.keepDry ? 'change:stuckDry' : 'change:stuck')}</p>
          <Drawing name="remove" />
          <Drawing name="freeStuck" class="drawing-small" />
        </>
      ) : (
        <>
          <Drawing name={pictureOf(step, recipe, short)} />
          {note}
          <StepWords {...words} />
        </>
      )}
      {step === 'gather' && <Gather {...props} />}
      {(step === 'washHands' || step === 'washHandsAgain') && <HandTimer seconds={HAND_WASH_SECONDS} />}
      {different === undefined ? (
        <button type="button" class="button button-quiet" onClick={() => setDifferent('')}>
          {t('change:different')}
        </button>
      ) : (
        <WordsField label={t('change:differentHow')} value={different} rows={3} onChange={setDifferent} />
      )}
      <button type="button" class="button button-quiet" onClick={onStop}>
        {t('change:stop')}
      </button>
    </Page>
  );
}

/** The sentence of a step. The second layer is the only one where the recipe has no first. */
const leadOf = (step: StepId, recipe: Recipe | undefined): string =>
  t(step === 'secondary' && recipe && !recipe.primary ? 'change:secondaryOnly' : `change:step.${step}.text`);

/** What to do, with this plan's dressings and fluids by name. */
function StepWords({ step, recipe, short, keepDry }: { step: StepId; recipe: Recipe | undefined; short: boolean; keepDry: boolean }) {
  const { state } = useBook();
  if (short && hasWords(`change:short.${step}`)) return <p class="lead">{t(`change:short.${step}`)}</p>;
  const dressing = recipe && dressingOf(step, recipe);
  const means = recipe && stepMeans(step, recipe);
  const how = dressing && `change:how.${dressing.family}`;
  // A border that sticks is smoothed down; there is no tightness to feel for.
  const border = step === 'fix' && recipe?.fixation === 'adhesiveBorder';
  const lines = [
    ...(means && !border ? [means] : []),
    ...(how && hasWords(how) ? [t(how)] : []),
    ...(step === 'remove' && keepDry ? [t('change:removeDry')] : []),
  ];
  return (
    <>
      {dressing && <p class="dressing-name">{dressingName(dressing, unitsOf(state).length)}</p>}
      <p class="lead">{border ? t('change:fixation.adhesiveBorder') : leadOf(step, recipe)}</p>
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {dressing?.note && <p dir="auto">{dressing.note}</p>}
    </>
  );
}

/** What to lay out for the expected amounts of fluid, and what to keep near for the others. */
function Gather({ wound, draft, onGather }: Props) {
  const { notebook, state, book } = useBook();
  const found = lastFound(state.entries, wound.id, notebook.device.now());
  const lines = gatherList(book.plan, wound, found);
  const near = nearList(book.plan, wound, found);
  const ticks = { draft, onGather };
  return (
    <>
      {needsScissors(wound) && <p>{t('change:scissors')}</p>}
      {lines.length > 0 && <p>{t('change:mayNotNeed')}</p>}
      <Things {...ticks} legend={<legend class="unseen">{t('change:step.gather.title')}</legend>} lines={lines} />
      {near.length > 0 && (
        <Things
          {...ticks}
          legend={
            <legend>
              <h2>{t('change:keepNear')}</h2>
            </legend>
          }
          lines={near}
        />
      )}
    </>
  );
}

interface ThingsProps extends Pick<Props, 'draft' | 'onGather'> {
  legend: VNode;
  lines: readonly GatherLine[];
}

/** Things to tick off. */
function Things({ legend, lines, draft, onGather }: ThingsProps) {
  const toggle = (item: string, on: boolean) => onGather(on ? [...draft.gathered, item] : draft.gathered.filter((g) => g !== item));
  return (
    <fieldset class="choices">
      {legend}
      {lines.map((line) => (
        <label class="choice" key={line.item}>
          <input
            type="checkbox"
            checked={draft.gathered.includes(line.item)}
            onChange={(e) => toggle(line.item, e.currentTarget.checked)}
          />
          <span class="choice-sign" aria-hidden="true" />
          <span class="choice-words">
            <span class="choice-label">{t('common:amount', { amount: formatNumber(line.amount, 2), name: line.name })}</span>
          </span>
        </label>
      ))}
    </fieldset>
  );
}
