import type { Worn } from '../../care/log/worn.ts';
import { Choices } from '../../parts/choice.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { formatDay, formatTime, formatWeight, weightSign } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { hoursText } from '../weighing-lines.ts';
import { chosenWorn, OTHER, offStep, readGrams, readHours, readStep, STEPS_G, type Typed, type WeighPage } from './weighing.ts';

interface Props {
  page: WeighPage;
  typed: Typed;
  /** Dressings that may have been weighed, the newest first. */
  worn: readonly Worn[];
  /** The person wanted to go on without a complete answer. */
  complain: boolean;
  onType: (part: Partial<Typed>) => void;
  onTurn: (page: WeighPage) => void;
}

/** Whether a page's question has an answer that can be used. */
export function isComplete(page: WeighPage, typed: Typed): boolean {
  if (page === 'dry') return readGrams(typed.dry) !== undefined;
  if (page === 'used') return readGrams(typed.used) !== undefined;
  if (page === 'hours') return readHours(typed.hours) !== undefined;
  if (page !== 'step') return true;
  const step = readStep(typed);
  return step !== undefined && offStep(typed, step) === undefined;
}

/** What one page asks, and how to do it. */
export function PageFields(props: Props) {
  const { page } = props;
  if (page === 'start') return <Start />;
  if (page === 'dry' || page === 'used') return <Weight {...props} which={page} />;
  if (page === 'step') return <Step {...props} />;
  return page === 'hours' ? <Hours {...props} /> : <LookOver {...props} />;
}

/** When to weigh and when not, before anything is asked. */
function Start() {
  return (
    <>
      <p class="lead">{t('course:weigh.page.start.text')}</p>
      <ul class="facts">
        {(['dressFirst', 'gloves', 'clean', 'grams'] as const).map((rule) => (
          <li key={rule}>{t(`course:weigh.rule.${rule}`)}</li>
        ))}
      </ul>
    </>
  );
}

function Weight({ which, typed, complain, onType }: Props & { which: 'dry' | 'used' }) {
  const wrong = complain && readGrams(typed[which]) === undefined;
  return (
    <>
      <p class="lead">{t(`course:weigh.page.${which}.text`)}</p>
      <NumberField
        label={t(`course:weigh.page.${which}.field`)}
        value={typed[which]}
        unit={weightSign()}
        error={wrong ? t('course:weigh.range') : undefined}
        onChange={(text) => onType({ [which]: text })}
      />
      <p class="hint">{t(`course:weigh.page.${which}.hint`)}</p>
    </>
  );
}

function Step({ typed, complain, onType }: Props) {
  const step = readStep(typed);
  const off = step === undefined ? undefined : offStep(typed, step);
  const wrong =
    typed.step === ''
      ? t('course:weigh.chooseStep')
      : step !== undefined && off !== undefined
        ? t('course:weigh.offStep', { weight: formatWeight(off), step: formatWeight(step) })
        : undefined;
  return (
    <>
      <p class="lead">{t('course:weigh.page.step.text')}</p>
      <Choices
        legend={t('course:weigh.page.step.ask')}
        choices={[
          ...STEPS_G.map((g) => ({ value: g, label: formatWeight(Number(g)) })),
          { value: OTHER, label: t('course:weigh.otherStep') },
        ]}
        chosen={typed.step === '' ? [] : [typed.step]}
        error={complain ? wrong : undefined}
        onChange={([chosen]) => onType({ step: chosen ?? '' })}
      />
      {typed.step === OTHER && (
        <NumberField
          label={t('course:weigh.page.step.field')}
          value={typed.otherStep}
          unit={weightSign()}
          error={complain && step === undefined ? t('course:weigh.stepRange') : undefined}
          onChange={(text) => onType({ otherStep: text })}
        />
      )}
    </>
  );
}

function Hours({ typed, worn, complain, onType }: Props) {
  const wrong = complain && readHours(typed.hours) === undefined;
  return (
    <>
      <p class="lead">{t(worn.length > 0 ? 'course:weigh.page.hours.text' : 'course:weigh.page.hours.none')}</p>
      {worn.length > 0 && (
        <Choices
          legend={t('course:weigh.which')}
          choices={[
            ...worn.map((w) => ({
              value: w.change,
              label: t('course:weigh.takenOff', { day: formatDay(w.offDay, 'short'), time: formatTime(w.off, w.offZone) }),
              hint: t('course:weigh.wornFor', { hours: hoursText(w.hours) }),
            })),
            { value: OTHER, label: t('course:weigh.otherDressing') },
          ]}
          chosen={typed.worn === '' ? [] : [typed.worn]}
          onChange={([id]) => {
            const chosen = worn.find((w) => w.change === id);
            onType(chosen ? chosenWorn(chosen) : { worn: OTHER, hours: '' });
          }}
        />
      )}
      <NumberField
        label={t('course:weigh.page.hours.field')}
        hint={t('course:weigh.page.hours.hint')}
        value={typed.hours}
        unit={t('course:weigh.hour')}
        error={wrong ? t('course:weigh.hoursRange') : undefined}
        onChange={(text) => onType({ hours: text })}
      />
    </>
  );
}

/** Everything once more; each line leads back to its page. */
function LookOver({ typed, complain, onTurn }: Props) {
  const [dry, used, step, hours] = [readGrams(typed.dry), readGrams(typed.used), readStep(typed), readHours(typed.hours)];
  const lines: [WeighPage, string, string | undefined][] = [
    ['dry', t('log:weighing.dry'), dry === undefined ? undefined : formatWeight(dry)],
    ['used', t('log:weighing.used'), used === undefined ? undefined : formatWeight(used)],
    ['step', t('log:weighing.step'), step === undefined ? undefined : formatWeight(step)],
    ['hours', t('log:weighing.hours'), hours === undefined ? undefined : hoursText(hours)],
  ];
  return (
    <>
      {complain && (
        <p class="error" role="alert">
          {t('course:weigh.lacking')}
        </p>
      )}
      {dry !== undefined && used !== undefined && used < dry && <p class="notice">{t('course:weigh.lighter')}</p>}
      <ul class="rows">
        {lines.map(([page, name, value]) => (
          <li key={page}>
            <button type="button" class="row" onClick={() => onTurn(page)}>
              <span class="row-words">
                <span>{name}</span>
                <span class="row-more">{value ?? t('log:noAnswer')}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      <p class="hint">{t('course:weigh.page.look.text')}</p>
    </>
  );
}
