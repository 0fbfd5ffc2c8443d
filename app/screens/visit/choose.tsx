import { useState } from 'preact/hooks';
import { isLocalDay, type LocalDay } from '../../care/schedule/day.ts';
import type { Period } from '../../care/visit/period.ts';
import { Choices } from '../../parts/choice.tsx';
import { LANGUAGES, t, words } from '../../words/i18n.ts';
import { type Choice, SPANS, type Span } from './choice.ts';

interface Props {
  choice: Choice;
  period: Period;
  today: LocalDay;
  hasPhotos: boolean;
  onChoose: (next: Choice) => void;
}

/** Which days, which languages, and whether photos go on paper. */
export function Choose({ choice, period, today, hasPhotos, onChoose }: Props) {
  const labelOf = (span: Span): string => t(`visit:choose.${span === 'visit' && period.lastVisit === undefined ? 'plan' : span}`);
  const others = Object.entries(LANGUAGES).filter(([language]) => language !== words.language);
  return (
    <details class="visit-tools versions">
      <summary>{t('visit:choose.title')}</summary>
      <h2>{t('visit:choose.period')}</h2>
      <Choices
        legend={t('visit:choose.period')}
        choices={SPANS.map((span) => ({ value: span, label: labelOf(span) }))}
        chosen={[choice.span]}
        onChange={([span]) => onChoose({ ...choice, span: span as Span, from: period.from, to: period.to })}
      />
      {choice.span === 'days' && <OtherDays choice={choice} period={period} today={today} onChoose={onChoose} />}
      <h2>{t('visit:choose.second')}</h2>
      <p class="hint">{t('visit:choose.secondHint')}</p>
      <Choices
        legend={t('visit:choose.second')}
        choices={[{ value: '', label: t('visit:choose.one') }, ...others.map(([value, label]) => ({ value, label }))]}
        chosen={[choice.second ?? '']}
        onChange={([second]) => {
          const { second: _, ...rest } = choice;
          onChoose(second ? { ...rest, second } : rest);
        }}
      />
      {hasPhotos && (
        <Choices
          legend={t('visit:choose.photos')}
          many
          choices={[{ value: 'photos', label: t('visit:choose.photos') }]}
          chosen={choice.printPhotos ? ['photos'] : []}
          onChange={(chosen) => onChoose({ ...choice, printPhotos: chosen.length > 0 })}
        />
      )}
    </details>
  );
}

const ENDS = ['from', 'to'] as const;

/** Two days of one's own. The page stays as it is until both make sense. */
function OtherDays({ choice, period, today, onChoose }: Omit<Props, 'hasPhotos'>) {
  const [typed, setTyped] = useState({ from: choice.from ?? period.from, to: choice.to ?? period.to } as Record<'from' | 'to', string>);
  const isRight = (d: typeof typed): boolean => isLocalDay(d.from) && isLocalDay(d.to) && d.from <= d.to && d.to <= today;
  const type = (end: 'from' | 'to', day: string) => {
    const next = { ...typed, [end]: day };
    setTyped(next);
    if (isRight(next)) onChoose({ ...choice, from: next.from as LocalDay, to: next.to as LocalDay });
  };
  const wrong = !isRight(typed) || undefined;
  return (
    <div class="field">
      {ENDS.map((end) => (
        <div key={end} class="field">
          <label for={`visit-${end}`}>{t(`visit:choose.${end}`)}</label>
          <input
            id={`visit-${end}`}
            type="date"
            max={today}
            value={typed[end]}
            aria-invalid={wrong}
            aria-describedby={wrong && 'visit-days-wrong'}
            onInput={(e) => type(end, e.currentTarget.value)}
          />
        </div>
      ))}
      {wrong && (
        <p class="error" id="visit-days-wrong" role="alert">
          {t('visit:choose.wrong')}
        </p>
      )}
    </div>
  );
}
