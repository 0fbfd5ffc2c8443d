import { useState } from 'preact/hooks';
import { GLUCOSE_UNITS, type GlucoseAnswer, type GlucoseUnit } from '../care/check/answers.ts';
import { readAnswer } from '../care/check/read-answer.ts';
import { formatNumber, parseNumber } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { Choices } from './choice.tsx';
import { NumberField } from './number-field.tsx';
import type { QuestionProps } from './question-props.ts';

/** Blood sugar in the person's unit; it may be left out. */
export function Glucose({ question, answer, onAnswer, onUnclear, units, complain }: QuestionProps) {
  const given = answer as GlucoseAnswer | undefined;
  const [unit, setUnit] = useState<GlucoseUnit>(given?.unit ?? units.glucose);
  const [text, setText] = useState(given ? formatNumber(given.value, 2) : '');
  const offer = (nextText: string, nextUnit: GlucoseUnit) => {
    const value = parseNumber(nextText);
    const read = value === undefined ? undefined : readAnswer(question.id, { value, unit: nextUnit });
    onUnclear?.(nextText.trim() !== '' && read === undefined);
    onAnswer(read);
  };
  return (
    <>
      <NumberField
        label={t('check:glucose.field')}
        hint={t('check:glucose.skip')}
        value={text}
        unit={unit}
        error={(complain || text.length > 2) && text !== '' && given === undefined ? t('check:glucose.range') : undefined}
        onChange={(next) => {
          setText(next);
          offer(next, unit);
        }}
      />
      <Choices
        legend={t('check:glucose.unit')}
        choices={GLUCOSE_UNITS.map((u) => ({ value: u, label: u }))}
        chosen={[unit]}
        onChange={([u]) => {
          setUnit(u as GlucoseUnit);
          offer(text, u as GlucoseUnit);
        }}
      />
    </>
  );
}
