import type { AlertLine } from '../../care/visit/alerts-part.ts';
import { formatShortDay } from '../../words/figures.ts';
import { formatTime } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { isOneOf, reasonText } from '../../words/reasons.ts';
import { LevelMark } from '../level.tsx';
import { useSay } from './speak.tsx';
import { answerOfAlert } from './visit-words.ts';

/** The alerts of a period, what each rested on and what was done about it. The person's words stand as they wrote them. */
export function Alerts({ alerts }: { alerts: readonly AlertLine[] }) {
  const say = useSay();
  if (alerts.length === 0) return <p>{say(() => t('visit:alerts.none'))}</p>;
  return say(() => (
    <ol class="visit-alert-list">
      {alerts.map((alert) => (
        <li key={alert.id}>
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
