import { useState } from 'preact/hooks';
import { standing } from '../../care/log/timeline.ts';
import { NotSaved } from '../../parts/not-saved.tsx';
import { Page } from '../../parts/page.tsx';
import { press } from '../../parts/press.ts';
import { formatNumber } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import { go } from '../route.ts';

/** What a change really used, where it was not what the recipe says. */
export function UsedScreen({ change }: { change: string }) {
  const { notebook, state, book } = useBook();
  const used = standing(state.entries, 'stock').filter((e) => e.now.change === change);
  const [amounts, setAmounts] = useState<Record<string, number>>({});
  const [failed, setFailed] = useState(false);
  const nameOf = (item: string): string => apart(book.plan.supplies.find((s) => s.id === item)?.name ?? t('supplies:noName'));
  const save = async () => {
    try {
      await notebook.append(
        used
          .filter((e) => amounts[e.first.id] !== undefined && amounts[e.first.id] !== e.now.amount)
          .map((e) => ({ ...e.now, ...notebook.stamp(), amount: amounts[e.first.id] ?? e.now.amount, amends: e.first.id })),
      );
      go('today');
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('supplies:usedTitle')}
      back={() => go('today')}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" onClick={() => void save()}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <p class="lead">{t('supplies:usedText')}</p>
      <ul class="stock">
        {used.map((e) => {
          const name = nameOf(e.now.item);
          const shown = amounts[e.first.id] ?? e.now.amount;
          const set = (to: number) => setAmounts({ ...amounts, [e.first.id]: Math.max(0, to) });
          return (
            <li class="stock-row" key={e.first.id}>
              <span class="stock-name">{name}</span>
              <div class="stock-count">
                <button
                  type="button"
                  class="step-button"
                  aria-label={t('supplies:less', { name })}
                  {...press(() => set(shown - 1), shown <= 0)}
                >
                  −
                </button>
                <output class="stock-number" aria-live="polite" aria-label={t('supplies:countOf', { name })}>
                  {formatNumber(shown, 2)}
                </output>
                <button type="button" class="step-button" aria-label={t('supplies:more', { name })} onClick={() => set(shown + 1)}>
                  +
                </button>
              </div>
            </li>
          );
        })}
      </ul>
    </Page>
  );
}

/** An item of the person's own. */
export function OwnItemScreen() {
  const { notebook } = useBook();
  const [name, setName] = useState('');
  const [failed, setFailed] = useState(false);
  const save = async () => {
    try {
      await notebook.append([
        { ...notebook.stamp(), kind: 'ownItem', item: `own-${notebook.device.newId()}`.slice(0, 64), name: name.trim() },
      ]);
      go('supplies');
    } catch {
      setFailed(true);
    }
  };
  return (
    <Page
      title={t('supplies:addItem')}
      back={() => go('supplies')}
      foot={
        <>
          <NotSaved when={failed} />
          <button type="button" class="button button-main" disabled={name.trim() === ''} onClick={() => void save()}>
            {t('common:save')}
          </button>
        </>
      }
    >
      <div class="field">
        <label for="own-name">{t('supplies:itemName')}</label>
        <input
          id="own-name"
          type="text"
          dir="auto"
          maxLength={80}
          autocomplete="off"
          value={name}
          onInput={(e) => setName(e.currentTarget.value)}
        />
      </div>
    </Page>
  );
}
