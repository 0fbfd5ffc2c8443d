import { useState } from 'preact/hooks';
import { isLocalDay, type LocalDay } from '../care/schedule/day.ts';
import type { Period } from '../care/visit/period.ts';
import { lengthSign } from '../words/format.ts';
import { t } from '../words/i18n.ts';
import { Pick, TextBox } from './fields.tsx';
import { DAYS_MOST, LOG_SPANS, type LogChoice, type LogSpan } from './log-input.ts';

interface Props {
  choice: LogChoice;
  period: Period;
  /** The last day there is. */
  last: LocalDay;
  onChoose: (choice: LogChoice) => void;
}

/** The two ends and their words. */
const ENDS = { from: 'first', to: 'last' } as const;
type End = keyof typeof ENDS;

/** Which days are shown, and in which unit sizes are. What is typed takes effect once both days make sense. */
export function LogPeriod({ choice, period, last, onChoose }: Props) {
  const labelOf = (span: LogSpan): string => t(`clinic:log.span.${span === 'visit' && period.lastVisit === undefined ? 'plan' : span}`);
  const [typed, setTyped] = useState<Record<End, string>>();
  const shown = typed ?? { from: choice.from ?? period.from, to: choice.to ?? period.to };
  const isRight = (d: Record<End, string>): boolean => isLocalDay(d.from) && isLocalDay(d.to) && d.from <= d.to && d.to <= last;
  const type = (end: End, day: string) => {
    const next = { ...shown, [end]: day };
    setTyped(next);
    if (isRight(next)) onChoose({ ...choice, from: next.from as LocalDay, to: next.to as LocalDay });
  };
  return (
    <div class="f-row log-period">
      <Pick
        label={t('clinic:log.days')}
        value={choice.span}
        options={LOG_SPANS.map((span) => [span, labelOf(span)] as const)}
        onChange={(span) => {
          setTyped(undefined);
          onChoose({ span: span as LogSpan, from: period.from, to: period.to, length: choice.length });
        }}
      />
      {choice.span === 'days' &&
        (Object.keys(ENDS) as End[]).map((end) => (
          <TextBox
            key={end}
            type="date"
            label={t(`clinic:log.${ENDS[end]}`)}
            value={shown[end]}
            error={end === 'to' && !isRight(shown) ? t('visit:choose.wrong') : undefined}
            onChange={(day) => type(end, day)}
          />
        ))}
      <Pick
        label={t('clinic:log.length')}
        value={choice.length}
        options={(['cm', 'in'] as const).map((unit) => [unit, lengthSign(unit)] as const)}
        onChange={(length) => onChoose({ ...choice, length: length as 'cm' | 'in' })}
      />
      {period.days >= DAYS_MOST && <p class="f-hint">{t('clinic:log.most')}</p>}
    </div>
  );
}
