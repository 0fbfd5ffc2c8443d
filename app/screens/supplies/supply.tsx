import { useState } from 'preact/hooks';
import { isLocalDay } from '../../care/schedule/day.ts';
import { ledger, type Movement } from '../../care/supplies/ledger.ts';
import type { Supply } from '../../care/supplies/orders.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { Page } from '../../parts/page.tsx';
import { formatDay, formatNumber, parseNumber } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';
import { usePendingCounts } from './pending-counts.ts';
import { itemName, lastsText } from './supplies.tsx';
import { type SuppliesState, useSupplies } from './use-supplies.ts';

type Doing = 'received' | 'counted' | 'wasted';
const DOING_TITLES: Record<Doing, string> = { received: 'supplies:delivery', counted: 'supplies:setCount', wasted: 'supplies:waste' };

/** One item: a delivery, a count, pieces thrown away, and every movement so far. */
export function SupplyScreen({ id }: { id: string }) {
  const found = useSupplies();
  const [doing, setDoing] = useState<Doing | undefined>();
  const supply = found?.all.find((s) => s.item.id === id);
  if (!found || !supply) {
    return (
      <Page title={t(found ? 'supplies:gone' : 'common:wait')} back={() => go('supplies')}>
        {found && <p>{t('supplies:goneText')}</p>}
      </Page>
    );
  }
  if (doing) return <Move supply={supply} movement={doing} onBack={() => setDoing(undefined)} />;
  return <SupplyPage found={found} supply={supply} onDo={setDoing} />;
}

function SupplyPage({ found, supply, onDo }: { found: SuppliesState; supply: Supply; onDo: (what: Doing) => void }) {
  const { notebook, book: open } = useBook();
  const [counts] = usePendingCounts(open.id);
  const { item, forecast } = supply;
  const book = ledger(found.entries, item.id, notebook.device.now());
  const rate = forecast.extra.reduce((sum, e) => sum + e.early, 0);
  const days = Math.max(0, ...forecast.extra.map((e) => e.days));
  return (
    <Page
      title={itemName(supply)}
      back={() => go('supplies')}
      foot={
        <>
          <button type="button" class="button button-main" onClick={() => onDo('received')}>
            {t('supplies:delivery')}
          </button>
          <button type="button" class="button button-second" onClick={() => onDo('counted')}>
            {t('supplies:setCount')}
          </button>
          <button type="button" class="button button-quiet" onClick={() => onDo('wasted')}>
            {t('supplies:waste')}
          </button>
        </>
      }
    >
      <p class="stock-big">{forecast.tracked ? t('supplies:left', { count: forecast.usable }) : t('supplies:notCounted')}</p>
      {forecast.tracked && <p class="lead">{lastsText(supply)}</p>}
      {counts[item.id] && <p>{t('supplies:notSavedYet', { amount: formatNumber(counts[item.id]?.amount ?? 0, 2) })}</p>}
      {forecast.reorderBy && forecast.tracked && (
        <p>
          {forecast.reorderBy <= notebook.today()
            ? t('supplies:reorderNow')
            : t('supplies:reorderBy', { day: formatDay(forecast.reorderBy) })}
        </p>
      )}
      {forecast.perDay.length > 0 && (
        <details class="versions">
          <summary>{t('supplies:howReckoned')}</summary>
          <p>{t('supplies:reckoned')}</p>
          <p>{days > 0 ? t('supplies:reckonedExtra', { count: rate, days }) : t('supplies:reckonedNone')}</p>
        </details>
      )}
      <h2>{t('supplies:movements')}</h2>
      {book.movements.length === 0 && <p>{t('supplies:noMovements')}</p>}
      <ul class="rows">
        {[...book.movements].reverse().map((m) => (
          <li key={m.id}>
            <a class="row" href={`#/log/${encodeURIComponent(m.id)}`}>
              <span class="row-time">{formatDay(m.day, 'short')}</span>
              <span class="row-words">
                <span>{movementText(m)}</span>
                {m.expires && <span class="row-more">{t('supplies:useBy', { day: formatDay(m.expires, 'short') })}</span>}
                {m.note && <span class="row-more">{apart(m.note)}</span>}
              </span>
            </a>
          </li>
        ))}
      </ul>
      {book.difference !== 0 && book.movements.some((m) => m.movement === 'counted') && (
        <p class="hint">{t('supplies:difference', { amount: formatNumber(-book.difference, 2) })}</p>
      )}
    </Page>
  );
}

const movementText = (m: Movement): string => t(`supplies:moved.${m.movement}`, { amount: formatNumber(m.amount, 2) });

/** Pieces that came, are there or were thrown away. */
function Move({ supply, movement, onBack }: { supply: Supply; movement: Doing; onBack: () => void }) {
  const { notebook, book } = useBook();
  const [{ [supply.item.id]: counted, ...others }, setCounts] = usePendingCounts(book.id);
  const packOf = movement === 'received' ? supply.item.packOf : undefined;
  const [text, setText] = useState('');
  const [expires, setExpires] = useState('');
  const [complain, setComplain] = useState(false);
  const [failed, setFailed] = useState(false);
  const typed = parseNumber(text);
  const amount = typed === undefined ? undefined : typed * (packOf ?? 1);
  // "I have none" is a count; a delivery of none is a slip.
  const wrong = amount === undefined || (amount === 0 && movement !== 'counted');
  const wrongDay = expires !== '' && !isLocalDay(expires);
  const save = async () => {
    if (wrong || wrongDay) return setComplain(true);
    try {
      await notebook.append([
        // A count made before this is saved with it; a new count takes its place.
        ...(counted && movement !== 'counted' ? [counted] : []),
        {
          ...notebook.stamp(),
          kind: 'stock',
          item: supply.item.id,
          movement,
          amount,
          ...(movement === 'received' && isLocalDay(expires) ? { expires } : {}),
        },
      ]);
      setCounts(others);
      onBack();
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t(DOING_TITLES[movement])}
      over={itemName(supply)}
      back={onBack}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" onClick={() => void save()}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <NumberField
        label={t(packOf ? 'supplies:packs' : 'supplies:pieces')}
        {...(packOf ? { hint: t('supplies:packHint', { count: packOf }) } : {})}
        value={text}
        unit={amount !== undefined && packOf ? t('supplies:makes', { count: amount }) : ''}
        error={complain && wrong ? t(movement === 'counted' ? 'supplies:countWrong' : 'supplies:numberWrong') : undefined}
        onChange={setText}
      />
      {movement === 'received' && (
        <div class="field">
          <label for="expires">{t('supplies:expires')}</label>
          <p class="hint" id="expires-hint">
            {t('supplies:expiresHint')}
          </p>
          <input
            id="expires"
            type="date"
            value={expires}
            aria-describedby="expires-hint"
            onInput={(e) => setExpires(e.currentTarget.value)}
          />
        </div>
      )}
    </Page>
  );
}
