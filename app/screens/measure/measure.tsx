import { useState } from 'preact/hooks';
import { type Entry, standing } from '../../care/log/timeline.ts';
import { Choices } from '../../parts/choice.tsx';
import { Drawing } from '../../parts/drawing.tsx';
import { NotSaved } from '../../parts/not-saved.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatLength, formatNumber, lengthSign, lengthToMm, parseNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook } from '../context.ts';
import { go, replace } from '../route.ts';
import { unitsOf } from '../units.ts';

/** No foot wound is larger; a larger number is a slip or the wrong unit. Our own limits. */
const MOST_MM = 400;
/** A larger size is rare on a foot: ask before it is written. */
const ASK_ABOVE_MM = 150;
/** So many times the size of last time is more likely a slip than growth. */
const ASK_ABOVE_TIMES = 3;

type Unit = 'cm' | 'in';
const SIDES = ['length', 'width'] as const;
type Side = (typeof SIDES)[number];
type Typed = Record<Side, string>;

/** A typed length in mm, or undefined when it is none. */
function read(text: string, unit: Unit): number | undefined {
  const value = parseNumber(text);
  const mm = value === undefined ? undefined : lengthToMm(value, unit);
  return mm !== undefined && mm > 0 && mm <= MOST_MM ? mm : undefined;
}

/** A typed number written again as the language writes it, whole or a tenth of it: a decimal sign is easily missed. */
const again = (text: string, share = 1): string => formatNumber((parseNumber(text) ?? 0) * share, 2);

/** The longest and the widest line at the last measurement of a wound, in mm. */
function lastSize(entries: readonly Entry[], wound: string): { longer?: number | undefined; across?: number | undefined } {
  const last = standing(entries, 'measurement').findLast((e) => e.now.wound === wound && e.now.lengthMm !== undefined)?.now;
  return { longer: last?.lengthMm, across: last?.widthMm };
}

/** The size of a wound with a ruler: the longest line, and the widest across it. */
export function MeasureScreen() {
  const { notebook, state, book } = useBook();
  const { wounds } = book.plan;
  const [wound, setWound] = useState(wounds[0]?.id ?? '');
  const [typed, setTyped] = useState<Typed>({ length: '', width: '' });
  const [complain, setComplain] = useState(false);
  const [asking, setAsking] = useState<Side | undefined>();
  const [meant, setMeant] = useState<readonly Side[]>([]);
  const [step, setStep] = useState<'typing' | 'saving' | 'saved'>('typing');
  const [failed, setFailed] = useState(false);
  const unit = unitsOf(state).length;
  const mmOf = (side: Side): number | undefined => read(typed[side], unit);

  const type = (side: Side, text: string) => {
    setTyped({ ...typed, [side]: text });
    setAsking(undefined);
    setMeant(meant.filter((m) => m !== side));
  };

  /** Saves, unless there is still a side to ask about. @param sure the sides the person stands by. */
  const save = async (now: Typed, sure: readonly Side[]) => {
    const length = read(now.length, unit);
    const width = read(now.width, unit);
    setAsking(undefined);
    if (length === undefined || width === undefined) return setComplain(true);
    // The longer one is the length, whichever way round it was typed.
    const [longer, across] = length >= width ? [length, width] : [width, length];
    const last = lastSize(state.entries, wound);
    const isLong = (mm: number, before: number | undefined) => mm > ASK_ABOVE_MM || (before !== undefined && mm > before * ASK_ABOVE_TIMES);
    const doubtful = SIDES.find((side) => {
      const mm = side === 'length' ? length : width;
      return !sure.includes(side) && isLong(mm, mm === longer ? last.longer : last.across);
    });
    if (doubtful) return setAsking(doubtful);
    setStep('saving');
    try {
      await notebook.append([{ ...notebook.stamp(), kind: 'measurement', wound, method: 'ruler', lengthMm: longer, widthMm: across }]);
      setStep('saved');
      setFailed(false);
    } catch {
      setStep('typing');
      setFailed(true);
    }
  };

  const answer = (side: Side, isTenth: boolean) => {
    const now = isTenth ? { ...typed, [side]: again(typed[side], 0.1) } : typed;
    const sure = [...meant, side];
    setTyped(now);
    setMeant(sure);
    void save(now, sure);
  };

  const [shortest = 0, longest = 0] = SIDES.map((side) => mmOf(side) ?? 0).sort((a, b) => a - b);
  return (
    <Page
      title={t(step === 'saved' ? 'log:measureSavedTitle' : 'log:measureTitle')}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          {step === 'saved' && <p role="status">{t('log:measureSaved')}</p>}
          {asking ? (
            <Doubt
              size={`${again(typed[asking])} ${lengthSign(unit)}`}
              smaller={`${again(typed[asking], 0.1)} ${lengthSign(unit)}`}
              onAnswer={(is) => answer(asking, is)}
            />
          ) : (
            <button
              type="button"
              class="button button-main"
              {...press(() => (step === 'saved' ? replace('log') : void save(typed, meant)), step === 'saving')}
            >
              {t(step === 'saved' ? 'common:done' : 'common:save')}
            </button>
          )}
        </>
      }
    >
      {step === 'saved' ? (
        <>
          <p class="lead">{t('log:measureSizes', { length: formatLength(longest, unit), width: formatLength(shortest, unit) })}</p>
          {longest !== mmOf('length') && <p>{t('log:measureTurned')}</p>}
        </>
      ) : (
        <>
          <p class="lead">{t('log:measureWhen')}</p>
          <Drawing name="look" />
          <p>{t('log:measureHow')}</p>
          {wounds.length > 1 && (
            <Choices
              legend={t('change:whichWound')}
              choices={wounds.map((w) => ({ value: w.id, label: woundName(w) }))}
              chosen={[wound]}
              onChange={([id]) => {
                setWound(id ?? wound);
                setAsking(undefined);
                setMeant([]);
              }}
            />
          )}
          {SIDES.map((side) => (
            <NumberField
              key={side}
              label={t(side === 'length' ? 'log:measureLength' : 'log:measureWidth')}
              value={typed[side]}
              unit={lengthSign(unit)}
              error={complain && mmOf(side) === undefined ? t('log:measureRange') : undefined}
              onChange={(text) => type(side, text)}
            />
          ))}
          <p class="hint">{t('log:measureWhy')}</p>
        </>
      )}
    </Page>
  );
}

/** Asks whether a decimal sign was missed. Nothing is written until it is answered. */
function Doubt({ size, smaller, onAnswer }: { size: string; smaller: string; onAnswer: (isTenth: boolean) => void }) {
  return (
    <>
      <p role="alert">{t('log:measureLong', { size, smaller })}</p>
      <button type="button" class="button button-main" onClick={() => onAnswer(true)}>
        {t('log:measureYes', { smaller })}
      </button>
      <button type="button" class="button button-second" onClick={() => onAnswer(false)}>
        {t('log:measureNo', { size })}
      </button>
    </>
  );
}
