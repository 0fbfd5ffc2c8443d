import { useState } from 'preact/hooks';
import type { TemperatureUnit, WarmthAnswer, WarmthPair } from '../care/check/answers.ts';
import type { Question } from '../care/check/questions.ts';
import { readAnswer } from '../care/check/read-answer.ts';
import { formatNumber, parseNumber, unitSign } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { Choices } from './choice.tsx';
import { choicesOf } from './choices-of.ts';
import { NumberField } from './number-field.tsx';
import type { QuestionProps } from './question-props.ts';

/** What the hand feels and, if the plan asks, readings of matching places on both feet. */
export function Warmth({ question, answer, onAnswer, units, warmthSites }: QuestionProps) {
  const given = answer as WarmthAnswer | undefined;
  const feel = typeof given === 'string' ? given : given?.feel;
  const pairs = typeof given === 'object' ? given.pairs : [];
  const combine = (nextFeel: string | undefined, nextPairs: readonly WarmthPair[]) => {
    if (nextFeel === undefined) return onAnswer(undefined);
    onAnswer(nextPairs.length > 0 ? { pairs: nextPairs, feel: nextFeel } : nextFeel);
  };
  const [typed, setTyped] = useState<Record<string, { woundSide: string; otherSide: string }>>(() =>
    Object.fromEntries(pairs.map((p) => [p.site, { woundSide: formatNumber(p.woundSide, 2), otherSide: formatNumber(p.otherSide, 2) }])),
  );
  const type = (site: string, which: 'woundSide' | 'otherSide', text: string) => {
    const next = { ...typed, [site]: { woundSide: '', otherSide: '', ...typed[site], [which]: text } };
    setTyped(next);
    const read = (warmthSites ?? []).flatMap((name) => {
      const woundSide = parseNumber(next[name]?.woundSide ?? '');
      const otherSide = parseNumber(next[name]?.otherSide ?? '');
      if (woundSide === undefined || otherSide === undefined) return [];
      const pair: WarmthPair = { site: name, woundSide, otherSide, ...(units.temperature === 'Cel' ? {} : { unit: units.temperature }) };
      return readAnswer(question.id, { pairs: [pair] }) === undefined ? [] : [pair];
    });
    combine(feel, read);
  };
  return (
    <>
      <Choices
        legend={t('check:warmth.ask')}
        choices={choicesOf(question)}
        chosen={feel === undefined ? [] : [feel]}
        onChange={([code]) => combine(code, pairs)}
      />
      {warmthSites && warmthSites.length > 0 && (
        <section class="pairs">
          <h2>{t('check:warmth.measure')}</h2>
          <p>{t('check:warmth.measureLook')}</p>
          {warmthSites.map((site) => (
            <fieldset class="pair" key={site}>
              <legend>{site}</legend>
              {(['woundSide', 'otherSide'] as const).map((which) => {
                const text = typed[site]?.[which] ?? '';
                const wrong = text.length > 1 && !isSkinReading(question, parseNumber(text), units.temperature);
                return (
                  <NumberField
                    key={which}
                    label={t(`check:warmth.${which}`)}
                    value={text}
                    unit={unitSign(units.temperature)}
                    error={wrong ? t('check:warmth.range') : undefined}
                    onChange={(next) => type(site, which, next)}
                  />
                );
              })}
            </fieldset>
          ))}
        </section>
      )}
    </>
  );
}

const isSkinReading = (question: Question, value: number | undefined, unit: TemperatureUnit): boolean =>
  value !== undefined && readAnswer(question.id, { pairs: [{ site: 'x', woundSide: value, otherSide: value, unit }] }) !== undefined;
