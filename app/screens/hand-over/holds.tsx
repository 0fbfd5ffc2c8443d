import type { RecordKind } from '../../care/log/records.ts';
import { type Entry, standing } from '../../care/log/timeline.ts';
import { entriesWithin, type Period } from '../../exchange/period.ts';
import { formatDay, formatList } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { useBook } from '../context.ts';
import type { Way } from './ways.ts';
import type { WholeLog } from './whole-log.ts';

const COUNTED = ['check', 'change', 'alert', 'measurement', 'note'] as const satisfies readonly RecordKind[];

interface Props {
  way: Way;
  log: WholeLog;
  period: Period;
  /** How many go along. */
  photos: number;
}

/** What is handed over, in plain words. */
export function Holds({ way, log, period, photos }: Props) {
  const { notebook, book } = useBook();
  const shown = entriesWithin(log.entries, period);
  const first = period.from ?? shown.map((e) => e.first.day).sort()[0] ?? notebook.today();
  const names = writers(shown, way.namesPatient);
  return (
    <>
      <h2>{t('handOver:holds')}</h2>
      <ul class="facts">
        <li>{t('handOver:days', { from: formatDay(first, 'short'), to: formatDay(notebook.today(), 'short') })}</li>
        {COUNTED.map((kind) => ({ kind, count: standing(shown, kind).length }))
          .filter(({ count }) => count > 0)
          .map(({ kind, count }) => (
            <li key={kind}>{t(`handOver:count.${kind}`, { count })}</li>
          ))}
        <li>{photos > 0 ? t('handOver:count.photo', { count: photos }) : t('handOver:noPhotos')}</li>
      </ul>
      <p>{t(`handOver:about.${way.id}`, { name: book.plan.person.callMe })}</p>
      {names.length > 0 && <p>{t('handOver:writers', { names: formatList(names.map((name) => apart(name))) })}</p>}
      <p>{t('handOver:unknown')}</p>
      {log.unreadable > 0 && (
        <p class="notice">{t(way.takesUnreadable ? 'handOver:unreadableToo' : 'handOver:unreadable', { count: log.unreadable })}</p>
      )}
    </>
  );
}

/** The names under which entries were written, as far as the file says them. */
const writers = (shown: readonly Entry[], withPatient: boolean): string[] => {
  const by = shown.flatMap((e) => [...e.versions, ...(e.voided ? [e.voided] : [])]).map((r) => r.by);
  return [...new Set(by.filter((b) => withPatient || b.who === 'caregiver').flatMap((b) => (b.name ? [b.name] : [])))].sort();
};
