import { useEffect, useState } from 'preact/hooks';
import { bookCodes } from '../../exchange/book-codes.ts';
import type { Code } from '../../exchange/qr-write.ts';
import { Choices } from '../../parts/choice.tsx';
import { Page } from '../../parts/page.tsx';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { LogCodes } from '../log-codes.tsx';
import { go } from '../route.ts';
import { bookToSend } from '../send-book.ts';

const PERIODS = [7, 14, 30, 90] as const;
const ALL = 'all';

/** The codes of the last days; `tooMany` when nobody would scan so many. Undefined while they are made. */
function useCodes(period: string): readonly Code[] | 'tooMany' | undefined {
  const { notebook, state } = useBook();
  const [made, setMade] = useState<{ period: string; codes: readonly Code[] | 'tooMany' } | undefined>();
  useEffect(() => {
    let current = true;
    void (async () => {
      const book = await bookToSend(notebook, period === ALL ? undefined : Number(period));
      const codes = bookCodes(book, new URL('./', location.href).href) ?? 'tooMany';
      if (current) setMade({ period, codes });
    })();
    return () => {
      current = false;
    };
  }, [notebook, period, state.records]);
  return made?.period === period ? made.codes : undefined;
}

/** The log of the last days as codes on the screen, for a phone or a clinic that scans them. */
export function CodesScreen() {
  const { book } = useBook();
  const [period, setPeriod] = useState('14');
  const codes = useCodes(period);
  return (
    <Page title={t('keep:codes.title', { name: book.plan.person.callMe })} back={() => go('phones')}>
      <p class="lead">{t('keep:codes.how')}</p>
      {codes === undefined && <p role="status">{t('common:wait')}</p>}
      {codes === 'tooMany' && (
        <p class="error" role="alert">
          {t('keep:codes.tooMany')}
        </p>
      )}
      {codes && codes !== 'tooMany' && <LogCodes codes={codes} />}
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
