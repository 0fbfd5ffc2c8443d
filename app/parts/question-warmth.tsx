import { useState } from 'preact/hooks';
import type { TemperatureUnit, WarmthAnswer, WarmthPair } from '../care/check/answers.ts';
import type { Code, Question } from '../care/check/questions.ts';
import { readAnswer } from '../care/check/read-answer.ts';
import { formatNumber, parseNumber, unitSign } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { Choices } from './choice.tsx';
import { choicesOf } from './choices-of.ts';
import { NumberField } from './number-field.tsx';
import type { QuestionProps } from './question-props.ts';

type Typed = Record<string, { woundSide: string; otherSide: string }>;

const EMPTY = { woundSide: '', otherSide: '' };

/** The pairs that are typed whole and plausible. */
function pairsOf(typed: Typed, question: Question, unit: TemperatureUnit): WarmthPair[] {
  return Object.entries(typed).flatMap(([site, texts]) => {
    const woundSide = parseNumber(texts.woundSide);
    const otherSide = parseNumber(texts.otherSide);
    if (woundSide === undefined || otherSide === undefined) return [];
    const pair: WarmthPair = { site, woundSide, otherSide, ...(unit === 'Cel' ? {} : { unit }) };
    return readAnswer(question.id, { pairs: [pair] }) === undefined ? [] : [pair];
  });
}

/** Whether something is typed that makes no whole pair. */
const isUnclear = (typed: Typed, pairs: readonly WarmthPair[]): boolean =>
  Object.entries(typed).some(([site, texts]) => (texts.woundSide + texts.otherSide).trim() !== '' && !pairs.some((p) => p.site === site));

/** What the hand feels and, if the plan asks, readings of matching places on both feet. */
export function Warmth({
  question,
  answer,
  onAnswer,
  onUnclear,
  units,
  warmthSites,
  complain,
  error,
}: QuestionProps & { error: string | undefined }) {
  const given = answer as WarmthAnswer | undefined;
  const [feel, setFeel] = useState(typeof given === 'string' ? given : given?.feel);
  const [typed, setTyped] = useState<Typed>(() =>
    Object.fromEntries(
      (typeof given === 'object' ? given.pairs : []).map((p) => [
        p.site,
        { woundSide: formatNumber(p.woundSide, 2), otherSide: formatNumber(p.otherSide, 2) },
      ]),
    ),
  );
  const offer = (nextFeel: string | undefined, nextTyped: Typed) => {
    const pairs = pairsOf(nextTyped, question, units.temperature);
    onUnclear?.(isUnclear(nextTyped, pairs));
    if (nextFeel === undefined) return onAnswer(undefined);
    onAnswer(pairs.length > 0 ? { pairs, feel: nextFeel } : nextFeel);
  };
  const type = (site: string, which: 'woundSide' | 'otherSide', text: string) => {
    const next = { ...typed, [site]: { ...EMPTY, ...typed[site], [which]: text } };
    setTyped(next);
    offer(feel, next);
  };
  return (
    <>
      <Choices
        legend={t('check:warmth.ask')}
        choices={choicesOf(question)}
        chosen={feel === undefined ? [] : [feel]}
        error={error}
        onChange={([code]) => {
          setFeel(code as Code<'warmth'>);
          offer(code, typed);
        }}
      />
      {warmthSites && warmthSites.length > 0 && (
        <section class="pairs">
          <h2>{t('check:warmth.measure')}</h2>
          <p>{t('check:warmth.measureLook')}</p>
          {warmthSites.map((site) => (
            <fieldset class="pair" key={site}>
              <legend>
                <bdi>{site}</bdi>
              </legend>
              {(['woundSide', 'otherSide'] as const).map((which) => {
                const text = typed[site]?.[which] ?? '';
                const half = complain && text === '' && (typed[site]?.woundSide ?? '') + (typed[site]?.otherSide ?? '') !== '';
                const wrong =
                  half ||
                  ((text.length > 1 || (complain && text !== '')) && !isSkinReading(question, parseNumber(text), units.temperature));
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
