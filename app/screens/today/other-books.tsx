import { LevelMark } from '../../parts/level.tsx';
import { useWords } from '../../parts/use-words.ts';
import { t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';

/** Alerts of the other people on this phone: they must not vanish when another book is opened. */
export function OtherBooks() {
  const { notebook, state, book } = useBook();
  const others = state.books.filter((b) => b.id !== book.id && b.openAlert);
  const ready = useWords(others.length > 0 ? ['alert'] : []);
  if (!ready) return null;
  return (
    <>
      {others.map((b) => (
        <button key={b.id} type="button" class={`open-alert open-alert-${b.openAlert}`} onClick={() => void notebook.openBook(b.id)}>
          <LevelMark level={b.openAlert ?? 'carryOn'} />
          <span>
            <strong>{t('today:otherAlert', { name: b.plan.person.callMe, what: t(`alert:short.${b.openAlert}`) })}</strong>
            <span>{t('today:otherOpen', { name: b.plan.person.callMe })}</span>
          </span>
        </button>
      ))}
    </>
  );
}
