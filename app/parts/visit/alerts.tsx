import type { AlertLine } from '../../care/visit/alerts-part.ts';
import { formatShortDay } from '../../words/figures.ts';
import { formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { isOneOf, reasonText } from '../../words/reasons.ts';
import { LevelMark } from '../level.tsx';
import { useSay } from './speak.tsx';
import { answerOfAlert } from './visit-words.ts';

/** So many alerts go on paper, which has two sides: those that are open, then the newest. The screen has them all. */
const ON_PAPER_MOST = 10;

/** The alerts of a period, what each rested on and what was done about it. The person's words stand as they wrote them. */
export function Alerts({ alerts }: { alerts: readonly AlertLine[] }) {
  const say = useSay();
  if (alerts.length === 0) return <p>{say(() => t('visit:alerts.none'))}</p>;
  const onPaper = new Set(
    [...alerts]
      .reverse()
      .sort((a, b) => Number(b.open) - Number(a.open))
      .slice(0, ON_PAPER_MOST),
  );
  const left = alerts.length - onPaper.size;
  return say(() => (
    <ol class="visit-alert-list">
      {left > 0 && <li class="visit-paper-only">{t('visit:alerts.more', { count: left })}</li>}
      {alerts.map((alert) => (
        <li key={alert.id} class={onPaper.has(alert) ? undefined : 'visit-screen-only'}>
          <LevelMark level={alert.told} />
          <div>
            <p class="visit-alert-head">
              <strong>{t(`alert:short.${alert.told}`)}</strong>
              <span>{t('visit:dayTime', { day: formatShortDay(alert.day), time: formatTime(alert.at, alert.zone) })}</span>
            </p>
            <p>{reasonsOf(alert).join(' ')}</p>
            {alert.answers.map((answer) => (
              <p key={answer.id} class="visit-did">
                {answerOfAlert(answer)}
                {answer.said && <q dir="auto">{answer.said}</q>}
              </p>
            ))}
            {alert.open && <p class="visit-open">{t(alert.carriedOver ? 'visit:alerts.openBefore' : 'visit:alerts.open')}</p>}
          </div>
        </li>
      ))}
    </ol>
  ));
}

const reasonsOf = ({ fired }: AlertLine): string[] =>
  fired.filter((rule, i) => fired.findIndex((other) => isOneOf(other, rule)) === i).map(reasonText);
