import { useState } from 'preact/hooks';
import type { Supply } from '../../care/supplies/orders.ts';
import { Choices } from '../../parts/choice.tsx';
import { Page } from '../../parts/page.tsx';
import { formatDay, formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { itemName } from './supplies.tsx';
import { useSupplies } from './use-supplies.ts';

/** One line of the order in plain words: `2 packs of 10: Foam pad`. */
function orderLine(supply: Supply): string {
  const { packs, packOf, pieces } = supply.forecast.toOrder;
  const name = itemName(supply);
  return packs === undefined || packOf === undefined
    ? t('supplies:orderPieces', { count: pieces, name })
    : t('supplies:orderPacks', { count: packs, packOf: formatNumber(packOf), name });
}

/** What to order, to share, copy or print. */
export function OrderScreen() {
  const { notebook, state, book } = useBook();
  const found = useSupplies();
  const [copied, setCopied] = useState(false);
  const lines = found?.all.filter((s) => s.forecast.toOrder.pieces > 0) ?? [];
  const until = lines[0]?.forecast.toOrder;
  const text = [
    t('supplies:orderFor', { name: book.plan.person.callMe, clinic: book.plan.clinic.name }),
    ...(until ? [t('supplies:orderUntil', { day: formatDay(until.until) })] : []),
    ...lines.map((s) => `– ${orderLine(s)}`),
  ].join('\n');
  const canShare = typeof navigator.share === 'function';
  const copy = () => navigator.clipboard.writeText(text).then(() => setCopied(true));
  return (
    <Page
      title={t('supplies:orderList')}
      back={() => go('supplies')}
      class="order"
      foot={
        lines.length > 0 && (
          <>
            {copied && <p role="status">{t('supplies:copied')}</p>}
            {canShare && (
              // A person who closes the share sheet has not failed at anything.
              <button type="button" class="button button-main" onClick={() => void navigator.share({ text }).catch(() => undefined)}>
                {t('supplies:share')}
              </button>
            )}
            <button type="button" class={`button ${canShare ? 'button-second' : 'button-main'}`} onClick={() => void copy()}>
              {t('supplies:copy')}
            </button>
            <button type="button" class="button button-quiet" onClick={() => window.print()}>
              {t('supplies:print')}
            </button>
          </>
        )
      }
    >
      {found && lines.length === 0 && <p class="lead">{t('supplies:orderNothing')}</p>}
      {lines.length > 0 && until && (
        <>
          {lines.some((s) => !s.forecast.tracked) && <p class="notice">{t('supplies:countFirst')}</p>}
          <p class="lead">{t(`supplies:orderWhy.${until.reason}`, { day: formatDay(until.until) })}</p>
          <p class="order-for">{t('supplies:orderFor', { name: book.plan.person.callMe, clinic: book.plan.clinic.name })}</p>
          <ul class="facts order-lines">
            {lines.map((s) => (
              <li key={s.item.id}>
                {orderLine(s)}
                <span class="row-more">
                  {s.forecast.tracked ? t('supplies:orderLeft', { count: s.forecast.usable }) : t('supplies:notCounted')}
                </span>
              </li>
            ))}
          </ul>
          <p>{t('supplies:neverStretch')}</p>
        </>
      )}
      {found && (
        <>
          <h2>{t('supplies:lead')}</h2>
          <Choices
            legend={t('supplies:lead')}
            choices={[3, 7, 10, 14].map((d) => ({ value: String(d), label: t('supplies:leadDays', { count: d }) }))}
            chosen={[String(state.settings.leadDays)]}
            onChange={([d]) => void notebook.saveSettings({ leadDays: Number(d) })}
          />
        </>
      )}
    </Page>
  );
}
