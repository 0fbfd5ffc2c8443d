import { useEffect, useState } from 'preact/hooks';
import type { SupplyWarning } from '../../care/supplies/orders.ts';
import { formatNearDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { supplyOptions } from '../supply-options.ts';

/** Which supplies run short, at most once a day, and only until the person has seen it; nothing while an alert waits. */
export function SuppliesNotice() {
  const { notebook, state, book } = useBook();
  const [warnings, setWarnings] = useState<readonly SupplyWarning[]>([]);
  const today = notebook.today();
  const seen = state.settings.suppliesSeen[book.id] === today;
  useEffect(() => {
    let current = true;
    if (seen) return;
    // After the first screen is up: most days there is nothing to say.
    const reckon = async () => {
      const [{ supplyWarningSteps }, entries] = await Promise.all([import('../../care/supplies/orders.ts'), notebook.stockEntries()]);
      const { device } = notebook;
      const steps = supplyWarningSteps(book.plan, entries, device.now(), device.zone(), supplyOptions(book, state.settings));
      let step = steps.next();
      while (!step.done && current) {
        await new Promise((resolve) => setTimeout(resolve));
        step = steps.next();
      }
      if (step.done && current) setWarnings(step.value);
    };
    void reckon();
    return () => {
      current = false;
    };
  }, [seen, state.entries, book, state.settings.leadDays]);
  const first = warnings[0];
  if (seen || !first || notebook.openAlerts().length > 0) return null;
  const day = first.runsOut ?? first.earliest;
  return (
    <section class="notice supplies-notice" aria-label={t('today:supplies')}>
      <p>
        {t(`today:supply.${first.level}`, { name: first.name ?? '', day: formatNearDay(day, today) })}
        {warnings.length > 1 && ` ${t('today:supplyMore', { count: warnings.length - 1 })}`}
      </p>
      <div class="notice-actions">
        <a class="button button-second" href="#/order">
          {t('today:supplyOrder')}
        </a>
        <button
          type="button"
          class="button button-quiet"
          onClick={() => void notebook.saveSettings({ suppliesSeen: { ...state.settings.suppliesSeen, [book.id]: today } })}
        >
          {t('today:supplySeen')}
        </button>
      </div>
    </section>
  );
}
