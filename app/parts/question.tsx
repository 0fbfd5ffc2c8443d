import { useState } from 'preact/hooks';
import {
  type Answers,
  type GlucoseAnswer,
  type GlucoseUnit,
  TEMPERATURE_SITES,
  type TemperatureAnswer,
  type TemperatureUnit,
  type WarmthAnswer,
  type WarmthPair,
} from '../care/check/answers.ts';
import { needsSecondReading } from '../care/check/applies.ts';
import type { Question } from '../care/check/questions.ts';
import { readAnswer } from '../care/check/read-answer.ts';
import { formatNumber, formatReading, parseNumber, unitSign } from '../words/format.ts';
import { hasWords, t } from '../words/i18n.ts';
import { type Choice, Choices } from './choice.tsx';
import { NumberField, WordsField } from './number-field.tsx';

interface Props {
  question: Question;
  answer: unknown;
  onAnswer: (answer: unknown) => void;
  units: { temperature: TemperatureUnit; glucose: GlucoseUnit };
  /** Matching places to measure on both feet, if the plan asks for it. */
  warmthSites?: readonly string[] | undefined;
  /** Shown when the person wants to go on without a complete answer. */
  complain: boolean;
}

const choicesOf = (question: Question): Choice[] =>
  [...question.codes, 'unsure'].map((code) => {
    const own = `check:${question.id}.code.${code}`;
    const hint = `check:${question.id}.hint.${code}`;
    return {
      value: code,
      label: t(code === 'unsure' && !hasWords(own) ? 'check:unsure' : own),
      hint: hasWords(hint) ? t(hint) : undefined,
    };
  });

/** The part of a screen that takes the answer to one question. */
export function QuestionFields(props: Props) {
  const { question, answer, onAnswer, complain } = props;
  const open = complain && answer === undefined;
  return (
    <>
      {hasWords(`check:${question.id}.look`) && <p class="lead">{t(`check:${question.id}.look`)}</p>}
      {open && question.kind !== 'temperature' && (
        <p class="error" role="alert">
          {t(question.kind === 'manyOf' ? 'check:chooseAll' : 'check:chooseOne')}
        </p>
      )}
      {question.kind === 'oneOf' && (
        <Choices
          legend={t(`check:${question.id}.ask`)}
          choices={choicesOf(question)}
          chosen={typeof answer === 'string' ? [answer] : []}
          onChange={([code]) => onAnswer(code)}
        />
      )}
      {question.kind === 'manyOf' && <ManyOf {...props} />}
      {question.kind === 'temperature' && <Temperature {...props} />}
      {question.kind === 'warmth' && <Warmth {...props} />}
      {question.kind === 'glucose' && <Glucose {...props} />}
      {question.kind === 'words' && (
        <WordsField
          label={t('check:note.ask')}
          value={typeof answer === 'string' ? answer : ''}
          onChange={(text) => onAnswer(text.trim() === '' ? undefined : text)}
        />
      )}
    </>
  );
}

function ManyOf({ question, answer, onAnswer }: Props) {
  const chosen = Array.isArray(answer) ? (answer as string[]) : [];
  return (
    <Choices
      legend={t(`check:${question.id}.ask`)}
      choices={choicesOf(question)}
      chosen={chosen}
      many
      onChange={(next) => {
        const added = next.find((code) => !chosen.includes(code));
        // "None of these" and any of these cannot both be true; the last tap counts.
        const list = added === 'none' ? ['none'] : next.filter((code) => code !== 'none');
        onAnswer(list.length > 0 ? list : undefined);
      }}
    />
  );
}

function Temperature({ question, answer, onAnswer, units, complain }: Props) {
  const given = answer as TemperatureAnswer | undefined;
  const measured = given && 'value' in given ? given : undefined;
  const [how, setHow] = useState<'measured' | 'felt'>(given && 'feelsFeverish' in given ? 'felt' : 'measured');
  const [unit, setUnit] = useState<TemperatureUnit>(measured?.unit ?? units.temperature);
  const [text, setText] = useState(measured ? formatNumber(measured.value, 2) : '');
  const [again, setAgain] = useState(measured?.again === undefined ? '' : formatNumber(measured.again, 2));
  const [site, setSite] = useState<string>(measured?.site ?? 'mouth');

  const offer = (next: { text?: string; again?: string; unit?: TemperatureUnit; site?: string }) => {
    const n = { text, again, unit, site, ...next };
    const value = parseNumber(n.text);
    const second = parseNumber(n.again);
    const whole = { value, unit: n.unit, site: n.site, ...(second === undefined ? {} : { again: second }) };
    onAnswer(value === undefined ? undefined : readAnswer(question.id, whole));
  };
  const low = measured !== undefined && (needsSecondReading(measured) || measured.again !== undefined);
  const range = t('check:temperature.range', {
    low: formatReading(unit === 'Cel' ? 30 : 86, unit),
    high: formatReading(unit === 'Cel' ? 45 : 113, unit),
  });
  if (how === 'felt') {
    return (
      <>
        {complain && given === undefined && (
          <p class="error" role="alert">
            {t('check:chooseOne')}
          </p>
        )}
        <h2>{t('check:temperature.feelAsk')}</h2>
        <p>{t('check:temperature.feelLook')}</p>
        <Choices
          legend={t('check:temperature.feelAsk')}
          choices={['no', 'yes', 'unsure'].map((code) => ({ value: code, label: t(`check:temperature.code.${code}`) }))}
          chosen={given && 'feelsFeverish' in given ? [given.feelsFeverish] : []}
          onChange={([code]) => onAnswer({ feelsFeverish: code })}
        />
        <button type="button" class="button button-quiet" onClick={() => (setHow('measured'), onAnswer(undefined))}>
          {t('check:temperature.haveOne')}
        </button>
      </>
    );
  }
  return (
    <>
      <NumberField
        label={t('check:temperature.field')}
        value={text}
        unit={unitSign(unit)}
        error={(complain || text.length > 3) && given === undefined ? (text === '' ? t('check:temperature.type') : range) : undefined}
        onChange={(next) => (setText(next), offer({ text: next }))}
      />
      {low && (
        <NumberField
          label={t('check:temperature.again')}
          hint={t('check:temperature.whyAgain')}
          value={again}
          unit={unitSign(unit)}
          error={complain && needsSecondReading(measured) ? t('check:temperature.typeAgain') : undefined}
          onChange={(next) => (setAgain(next), offer({ again: next }))}
        />
      )}
      <Choices
        legend={t('check:temperature.unit')}
        choices={(['Cel', '[degF]'] as const).map((u) => ({ value: u, label: unitSign(u) }))}
        chosen={[unit]}
        onChange={([u]) => (setUnit(u as TemperatureUnit), offer({ unit: u as TemperatureUnit }))}
      />
      <h2>{t('check:temperature.where')}</h2>
      <Choices
        legend={t('check:temperature.where')}
        choices={TEMPERATURE_SITES.map((s) => ({ value: s, label: t(`check:temperature.site.${s}`) }))}
        chosen={[site]}
        onChange={([s]) => (setSite(s as string), offer({ site: s as string }))}
      />
      <button type="button" class="button button-quiet" onClick={() => (setHow('felt'), onAnswer(undefined))}>
        {t('check:temperature.haveNone')}
      </button>
    </>
  );
}

function Warmth({ question, answer, onAnswer, units, warmthSites }: Props) {
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

function Glucose({ question, answer, onAnswer, units, complain }: Props) {
  const given = answer as GlucoseAnswer | undefined;
  const [unit, setUnit] = useState<GlucoseUnit>(given?.unit ?? units.glucose);
  const [text, setText] = useState(given ? formatNumber(given.value, 2) : '');
  const offer = (nextText: string, nextUnit: GlucoseUnit) => {
    const value = parseNumber(nextText);
    onAnswer(value === undefined ? undefined : readAnswer(question.id, { value, unit: nextUnit }));
  };
  return (
    <>
      <NumberField
        label={t('check:glucose.field')}
        hint={t('check:glucose.skip')}
        value={text}
        unit={unit}
        error={(complain || text.length > 2) && text !== '' && given === undefined ? t('check:glucose.range') : undefined}
        onChange={(next) => (setText(next), offer(next, unit))}
      />
      <Choices
        legend={t('check:glucose.unit')}
        choices={(['mg/dL', 'mmol/L'] as const).map((u) => ({ value: u, label: u }))}
        chosen={[unit]}
        onChange={([u]) => (setUnit(u as GlucoseUnit), offer(text, u as GlucoseUnit))}
      />
    </>
  );
}

/** Whether the person may go on with this answer. */
export function isAnswered(question: Question, answer: unknown): boolean {
  if (question.kind === 'glucose' || question.kind === 'words') return true;
  if (question.kind === 'temperature') return answer !== undefined && !needsSecondReading(answer as Answers['temperature']);
  return answer !== undefined;
}
