import { useState } from 'preact/hooks';
import { addDays } from '../../care/schedule/day.ts';
import { Choices } from '../../parts/choice.tsx';
import { Page } from '../../parts/page.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { LogCodes } from '../log-codes.tsx';
import { go } from '../route.ts';
import { useLogCodes } from '../use-log-codes.ts';

const PERIODS = [7, 14, 30, 90] as const;
const ALL = 'all';

/** The log of the last days as codes on the screen, for another phone that scans them. */
export function CodesScreen() {
  const { notebook, book } = useBook();
  const [period, setPeriod] = useState('14');
  const codes = useLogCodes(period === ALL ? undefined : addDays(notebook.today(), 1 - Number(period)));
  return (
    <Page title={t('keep:codes.title', { name: book.plan.person.callMe })} back={() => go('phones')}>
      <p class="lead">{t('keep:codes.how')}</p>
      <LogCodes codes={codes} />
      <section>
        <h2>{t('keep:codes.period')}</h2>
        <Choices
          legend={t('keep:codes.period')}
          choices={[
            ...PERIODS.map((days) => ({ value: String(days), label: t('keep:codes.days', { count: days }) })),
            { value: ALL, label: t('keep:codes.all') },
          ]}
          chosen={[period]}
          onChange={([value]) => setPeriod(value ?? ALL)}
        />
        <p class="hint">{t('keep:codes.noPhotos')}</p>
      </section>
    </Page>
  );
}
