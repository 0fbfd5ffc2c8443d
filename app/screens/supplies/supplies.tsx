import { useState } from 'preact/hooks';
import type { Supply } from '../../care/supplies/orders.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatDay, formatNumber } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { usePendingCounts } from './pending-counts.ts';
import { useSupplies } from './use-supplies.ts';

/** What an item is called; a name that is lost is said to be. */
export const itemName = (supply: Supply): string => (supply.item.name === undefined ? t('supplies:noName') : apart(supply.item.name));

/** How long it lasts, in one sentence, with the range it may fall in. */
export function lastsText({ forecast }: Supply): string {
  if (!forecast.tracked) return t('supplies:notCounted');
  if (forecast.perDay.length === 0) return t('supplies:notNeeded');
  if (forecast.lackingNext) return t('supplies:lacking');
  const { expected, earliest } = forecast.runsOut;
  if (!expected) return earliest ? t('supplies:lastsAtLeast', { day: formatDay(earliest) }) : t('supplies:lastsLong');
  if (!earliest || earliest === expected) return t('supplies:lastsUntil', { day: formatDay(expected) });
  return t('supplies:lastsBetween', { day: formatDay(expected), earliest: formatDay(earliest) });
}

/** All supplies with what is left. Plus and minus set the count right; a delivery has a page of its own. */
export function SuppliesScreen() {
  const { notebook, book } = useBook();
  const found = useSupplies();
  const [counts, setCounts] = usePendingCounts(book.id);
  const [saved, setSaved] = useState(false);
  const [failed, setFailed] = useState(false);
  const changed = Object.values(counts);

  const save = async () => {
    try {
      await notebook.append(changed);
      setCounts({});
      setSaved(true);
      setFailed(false);
    } catch {
      setFailed(true);
    }
  };

  const count = (item: string, to: number) => {
    setSaved(false);
    setCounts({ ...counts, [item]: { ...notebook.stamp(), kind: 'stock', item, movement: 'counted', amount: Math.max(0, to) } });
  };

  return (
    <Page
      title={t('supplies:title')}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          {saved && <p role="status">{t('supplies:saved')}</p>}
          {changed.length > 0 ? (
            <button type="button" class="button button-main" onClick={() => void save()}>
              {t('supplies:saveCounts', { count: changed.length })}
            </button>
          ) : (
            <a class="button button-main" href="#/order">
              {t('supplies:orderList')}
            </a>
          )}
        </>
      }
    >
      <p class="lead">{t('supplies:how')}</p>
      {found?.all.length === 0 && <p>{t('supplies:none')}</p>}
      <ul class="stock">
        {found?.all.map((supply) => (
          <StockRow
            key={supply.item.id}
            supply={supply}
            pending={counts[supply.item.id]?.amount}
            onCount={(to) => count(supply.item.id, to)}
          />
        ))}
      </ul>
      {found && (
        <nav class="contents" aria-label={t('today:contents')}>
          <a href="#/own-item">{t('supplies:addItem')}</a>
        </nav>
      )}
    </Page>
  );
}

function StockRow({ supply, pending, onCount }: { supply: Supply; pending: number | undefined; onCount: (to: number) => void }) {
  const { item, forecast, warning } = supply;
  const name = itemName(supply);
  // Nobody knows how many there are until somebody has counted.
  const shown = pending ?? (forecast.tracked ? forecast.usable + forecast.expired : undefined);
  return (
    <li class="stock-row">
      <a class="stock-name" href={`#/supply/${encodeURIComponent(item.id)}`}>
        {name}
      </a>
      <div class="stock-count">
        <button
          type="button"
          class="step-button"
          aria-label={t('supplies:less', { name })}
          {...press(() => onCount(Math.ceil(shown ?? 1) - 1), shown !== undefined && shown <= 0)}
        >
          −
        </button>
        <output class="stock-number" aria-live="polite" aria-label={t('supplies:countOf', { name })}>
          {shown === undefined ? '?' : formatNumber(shown, 2)}
        </output>
        <button
          type="button"
          class="step-button"
          aria-label={t('supplies:more', { name })}
          onClick={() => onCount(Math.floor(shown ?? 0) + 1)}
        >
          +
        </button>
      </div>
      <p class="stock-lasts">
        {warning && <span class="order-label">{t('supplies:order')}</span>}
        {(pending === undefined || forecast.tracked) && <span>{lastsText(supply)}</span>}
      </p>
      {forecast.expired > 0 && <p class="stock-lasts">{t('supplies:expired', { count: forecast.expired })}</p>}
      {item.source === 'older' && <p class="hint">{t('supplies:older')}</p>}
    </li>
  );
}
