import type { Period } from '../../exchange/period.ts';
import { Page } from '../../parts/page.tsx';
import { t } from '../../words/i18n.ts';
import { LogCodes } from '../log-codes.tsx';
import { useLogCodes } from '../use-log-codes.ts';
import { Holds } from './holds.tsx';
import type { CodesWay } from './ways.ts';
import type { WholeLog } from './whole-log.ts';

interface Props {
  way: CodesWay;
  log: WholeLog;
  period: Period;
  onBack: () => void;
}

/** The log as codes on the screen, for the clinic's desk to scan. */
export function CodesStep({ way, log, period, onBack }: Props) {
  const codes = useLogCodes(period.from);
  return (
    <Page title={t('handOver:codes.title')} over={t(`handOver:way.${way.id}.name`)} back={onBack} focusKey="codes">
      <p class="lead">{t('handOver:codes.how')}</p>
      <LogCodes codes={codes} />
      <Holds way={way} log={log} period={period} photos={0} />
      <h2>{t('handOver:whoReads')}</h2>
      <p>{t('handOver:codes.open')}</p>
    </Page>
  );
}
