import { useState } from 'preact/hooks';
import { addDays, type LocalDay } from '../../care/schedule/day.ts';
import { lastVisitBefore } from '../../care/visit/period.ts';
import { entriesWithin, type Period } from '../../exchange/period.ts';
import { Choices } from '../../parts/choice.tsx';
import { Page } from '../../parts/page.tsx';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { goBack } from '../route.ts';
import { CodesStep } from './codes-step.tsx';
import { FileStep } from './file-step.tsx';
import { PhotosStep } from './photos-step.tsx';
import { WAYS, type Way } from './ways.ts';
import { useWholeLog, type WholeLog } from './whole-log.ts';

const SINCE = ['visit', 'twoWeeks', 'threeMonths', 'all'] as const;
type Since = (typeof SINCE)[number];

function fromDay(since: Since, today: LocalDay, visit: LocalDay | undefined): LocalDay | undefined {
  if (since === 'visit') return visit;
  if (since === 'all') return undefined;
  return addDays(today, since === 'twoWeeks' ? -13 : -91);
}

/** Hands the log to the clinic: in which form, from when on, with which photos. Everything happens on the phone. */
export function HandOverScreen() {
  const { notebook } = useBook();
  const { log, failed } = useWholeLog();
  const [way, setWay] = useState<Way | undefined>();
  const [since, setSince] = useState<Since | undefined>();
  const [step, setStep] = useState<'period' | 'photos' | 'file'>('period');
  const [photos, setPhotos] = useState<readonly string[]>([]);

  if (!way) {
    return (
      <Page title={t('handOver:title')} back={() => goBack('log')}>
        <p class="lead">{t('handOver:lead')}</p>
        {failed && (
          <p class="error" role="alert">
            {t('handOver:notRead')}
          </p>
        )}
        <h2>{t('handOver:how')}</h2>
        <ul class="rows">
          {WAYS.map((one) => (
            <li key={one.id}>
              <button type="button" class="row" disabled={failed} onClick={() => setWay(one)}>
                <span class="row-words">
                  <span>{t(`handOver:way.${one.id}.name`)}</span>
                  <span class="row-more">{t(`handOver:way.${one.id}.hint`)}</span>
                </span>
              </button>
            </li>
          ))}
        </ul>
      </Page>
    );
  }

  const over = t(`handOver:way.${way.id}.name`);
  if (!log) {
    return (
      <Page title={t('handOver:back')} over={over} back={() => setWay(undefined)}>
        <p role={failed ? 'alert' : 'status'}>{t(failed ? 'handOver:notRead' : 'common:wait')}</p>
      </Page>
    );
  }

  // Whoever wrote down that they are at the clinic today still hands over the days up to now.
  const visit = lastVisitBefore(log.entries, notebook.today())?.day;
  const chosen = since ?? (visit ? 'visit' : 'twoWeeks');
  const period: Period = { from: fromDay(chosen, notebook.today(), visit) };
  const inPeriod = log.photos.filter((e) => period.from === undefined || e.first.day >= period.from);
  const asksPhotos = way.takesPhotos && inPeriod.length > 0;

  if (step === 'photos' && asksPhotos) {
    return (
      <PhotosStep
        over={over}
        photos={inPeriod}
        chosen={photos}
        onChange={setPhotos}
        onBack={() => setStep('period')}
        onDone={() => setStep('file')}
      />
    );
  }
  if (step === 'file' && !way.make) return <CodesStep way={way} log={log} period={period} onBack={() => setStep('period')} />;
  if (step === 'file' && way.make) {
    return (
      <FileStep
        way={way}
        log={log}
        period={period}
        photos={asksPhotos ? inPeriod.filter((e) => photos.includes(e.now.photo)) : []}
        onBack={() => setStep(asksPhotos ? 'photos' : 'period')}
      />
    );
  }
  return (
    <PeriodStep
      over={over}
      log={log}
      today={notebook.today()}
      visit={visit}
      since={chosen}
      onChange={setSince}
      onBack={() => setWay(undefined)}
      onDone={() => setStep(asksPhotos ? 'photos' : 'file')}
    />
  );
}

interface PeriodProps {
  over: string;
  log: WholeLog;
  today: LocalDay;
  visit: LocalDay | undefined;
  since: Since;
  onChange: (since: Since) => void;
  onBack: () => void;
  onDone: () => void;
}

function PeriodStep({ over, log, today, visit, since, onChange, onBack, onDone }: PeriodProps) {
  const [complain, setComplain] = useState(false);
  const offered = SINCE.filter((s) => s !== 'visit' || visit);
  const isEmpty = entriesWithin(log.entries, { from: fromDay(since, today, visit) }).length === 0;
  return (
    <Page
      title={t('handOver:back')}
      over={over}
      back={onBack}
      focusKey="period"
      foot={
        <button type="button" class="button button-main" onClick={() => (isEmpty ? setComplain(true) : onDone())}>
          {t('common:next')}
        </button>
      }
    >
      <Choices
        legend={t('handOver:back')}
        choices={offered.map((value) => {
          const from = fromDay(value, today, visit);
          return { value, label: t(`handOver:since.${value}`), hint: from && t('handOver:fromDay', { day: formatDay(from) }) };
        })}
        chosen={[since]}
        error={complain && isEmpty ? t('handOver:nothing') : undefined}
        onChange={([value]) => onChange(value as Since)}
      />
    </Page>
  );
}
