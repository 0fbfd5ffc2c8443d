import type { PlanOfTwo } from '../../care/plan/two-books.ts';
import { CallButton } from '../../parts/call-button.tsx';
import { LevelMark } from '../../parts/level.tsx';
import type { Book } from '../../store/book.ts';
import { apart, t } from '../../words/i18n.ts';

/** What taking in a log did, in words. */
export function TakenLines({ took }: { took: { added: number; known: number; aside: number } }) {
  return (
    <>
      <p>{took.added === 0 ? t('keep:taken.nothingNew') : t('keep:taken.added', { count: took.added })}</p>
      {took.known > 0 && <p>{t('keep:taken.known', { count: took.known })}</p>}
      {took.aside > 0 && (
        <p>
          <a href="#/set-aside">{t('keep:taken.aside', { count: took.aside })}</a>
        </p>
      )}
    </>
  );
}

/** What became of the plan in force, where that needs saying. */
export function PlanTaken({ plan, book }: { plan: PlanOfTwo; book: Book | undefined }) {
  if (!book || (plan !== 'taken' && plan !== 'conflict')) return null;
  const { clinic, revision } = book.plan;
  return (
    <div class="notice">
      {plan === 'conflict' && <LevelMark level="callToday" />}
      <p>{t(`keep:planOfTwo.${plan}`, { revision, clinic: clinic.name })}</p>
      <CallButton phone={clinic.phone} label={apart(clinic.name)} tone="quiet" />
    </div>
  );
}
