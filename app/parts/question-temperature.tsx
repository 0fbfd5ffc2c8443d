import { useRef, useState } from 'preact/hooks';
import {
  TEMPERATURE_RANGE_C,
  TEMPERATURE_SITES,
  TEMPERATURE_UNITS,
  type TemperatureAnswer,
  type TemperatureUnit,
} from '../care/check/answers.ts';
import { needsSecondReading } from '../care/check/applies.ts';
import { readAnswer } from '../care/check/read-answer.ts';
import { formatNumber, formatReading, parseNumber, unitSign } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { Choices } from './choice.tsx';
import { NumberField } from './number-field.tsx';
import type { QuestionProps } from './question-props.ts';

/** Whether an answer tells how the person feels, for want of a thermometer. */
export const isFelt = (answer: unknown): boolean => typeof answer === 'object' && answer !== null && 'feelsFeverish' in answer;

/** Body temperature: measured, or a feeling where there is no thermometer. */
export function Temperature(props: QuestionProps) {
  const given = props.answer as TemperatureAnswer | undefined;
  const [how, setHow] = useState<'measured' | 'felt'>(isFelt(given) ? 'felt' : 'measured');
  const turnTo = (next: 'measured' | 'felt') => {
    setHow(next);
    props.onFelt?.(next === 'felt');
    props.onCalm?.();
    props.onAnswer(undefined);
  };
  return how === 'felt' ? <Felt {...props} onTurn={() => turnTo('measured')} /> : <Measured {...props} onTurn={() => turnTo('felt')} />;
}

interface Props extends QuestionProps {
  /** To the other way of answering. */
  onTurn: () => void;
}

function Felt({ answer, onAnswer, onFelt, complain, onTurn }: Props) {
  const given = answer as TemperatureAnswer | undefined;
  return (
    <>
      {!onFelt && <h2>{t('check:temperature.feelAsk')}</h2>}
      <p class="lead">{t('check:temperature.feelLook')}</p>
      <Choices
        legend={t('check:temperature.feelAsk')}
        choices={['no', 'yes', 'unsure'].map((code) => ({ value: code, label: t(`check:temperature.code.${code}`) }))}
        chosen={given && 'feelsFeverish' in given ? [given.feelsFeverish] : []}
        error={complain && given === undefined ? t('check:chooseOne') : undefined}
        onChange={([code]) => onAnswer({ feelsFeverish: code })}
      />
      <button type="button" class="button button-quiet" onClick={onTurn}>
        {t('check:temperature.haveOne')}
      </button>
    </>
  );
}

type TemperatureReading = Extract<TemperatureAnswer, { value: number }>;

interface Typed {
  text: string;
  again: string;
  unit: TemperatureUnit;
  /** Undefined until it is chosen: the same number means more in the armpit than in the mouth. */
  site: string | undefined;
}

/** What was typed as an answer, as far as it is a plausible reading; the site may still be lacking. */
function read({ text, again, unit, site }: Typed): TemperatureReading | undefined {
  const value = parseNumber(text);
  if (value === undefined) return undefined;
  const second = parseNumber(again);
  const whole = { value, unit, ...(site === undefined ? {} : { site }) };
  // A second reading that is still being typed must not take the first one back.
  const answer =
    (second === undefined ? undefined : readAnswer('temperature', { ...whole, again: second })) ?? readAnswer('temperature', whole);
  return answer as TemperatureReading | undefined;
}

/** The other unit, where what was typed is no temperature in the chosen one but is one there. */
function otherUnit(typed: Typed): TemperatureUnit | undefined {
  const other = TEMPERATURE_UNITS.find((u) => u !== typed.unit);
  return other && !read(typed) && read({ ...typed, unit: other }) ? other : undefined;
}

const inUnit = (celsius: number, unit: TemperatureUnit): number => (unit === 'Cel' ? celsius : (celsius * 9) / 5 + 32);

function Measured({ answer, onAnswer, units, complain, onTurn }: Props) {
  const measured = answer !== undefined && 'value' in (answer as object) ? (answer as TemperatureReading) : undefined;
  const [typed, setTyped] = useState<Typed>({
    text: measured ? formatNumber(measured.value, 2) : '',
    again: measured?.again === undefined ? '' : formatNumber(measured.again, 2),
    unit: measured?.unit ?? units.temperature,
    site: measured?.site,
  });
  const type = (part: Partial<Typed>) => {
    const next = { ...typed, ...part };
    setTyped(next);
    onAnswer(next.site === undefined ? undefined : read(next));
  };
  const field = useRef<HTMLDivElement>(null);
  const { unit } = typed;
  const reading = read(typed);
  const low = reading !== undefined && (needsSecondReading(reading) || reading.again !== undefined);
  const other = otherUnit(typed);
  const [from, to] = TEMPERATURE_RANGE_C;
  const range = t('check:temperature.range', { low: formatReading(inUnit(from, unit), unit), high: formatReading(inUnit(to, unit), unit) });
  const wrong = reading === undefined && (complain || typed.text.length > 3);
  const error = wrong ? (typed.text === '' ? t('check:temperature.type') : range) : undefined;
  const turnUnit = (next: TemperatureUnit) => {
    type({ unit: next });
    // The button that was pressed is gone; go on from the number.
    field.current?.querySelector('input')?.focus();
  };
  return (
    <>
      <p class="lead">{t('check:temperature.look')}</p>
      <div ref={field}>
        <NumberField
          label={t('check:temperature.field')}
          value={typed.text}
          unit={unitSign(unit)}
          error={other ? t('check:temperature.otherUnit', { unit: unitSign(other) }) : error}
          onChange={(text) => type({ text })}
        />
        {other && (
          <button type="button" class="button button-second" onClick={() => turnUnit(other)}>
            {t('check:temperature.otherUnitYes', { unit: unitSign(other) })}
          </button>
        )}
      </div>
      <h2>{t('check:temperature.where')}</h2>
      <Choices
        legend={t('check:temperature.where')}
        choices={TEMPERATURE_SITES.map((s) => ({ value: s, label: t(`check:temperature.site.${s}`) }))}
        chosen={typed.site === undefined ? [] : [typed.site]}
        error={complain && reading !== undefined && typed.site === undefined ? t('check:temperature.sayWhere') : undefined}
        onChange={([site]) => type({ site })}
      />
      {low && (
        <NumberField
          label={t('check:temperature.again')}
          hint={t('check:temperature.whyAgain')}
          value={typed.again}
          unit={unitSign(unit)}
          error={complain && needsSecondReading(reading) ? t('check:temperature.typeAgain') : undefined}
          onChange={(again) => type({ again })}
        />
      )}
      <div class="side-by-side">
        <Choices
          legend={t('check:temperature.unit')}
          choices={TEMPERATURE_UNITS.map((u) => ({ value: u, label: unitSign(u) }))}
          chosen={[unit]}
          onChange={([u]) => type({ unit: u as TemperatureUnit })}
        />
      </div>
      <button type="button" class="button button-quiet" onClick={onTurn}>
        {t('check:temperature.haveNone')}
      </button>
    </>
  );
}
