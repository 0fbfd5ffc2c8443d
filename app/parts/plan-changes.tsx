import type { PlanChange } from '../care/plan/compare.ts';
import type { Plan } from '../care/plan/plan.ts';
import { t } from '../words/i18n.ts';
import { woundName } from '../words/names.ts';

/** What another plan changes, line by line. The words are those of the areas `plan` and `welcome`. */
export function PlanChanges({ changes, now, next }: { changes: readonly PlanChange[]; now: Plan; next: Plan }) {
  const name = (id: string | undefined): string => {
    const wound = [...next.wounds, ...now.wounds].find((w) => w.id === id);
    return wound ? woundName(wound) : '';
  };
  return (
    <section>
      <h2>{t('welcome:whatChanges')}</h2>
      {changes.length === 0 && <p>{t('welcome:nothingChanges')}</p>}
      <ul class="facts">
        {changes.map((c) => (
          <li key={`${c.what}${c.wound ?? ''}`}>
            {t(`plan:change.${c.what}`, { wound: name(c.wound) })}
            {(c.from !== undefined || c.to !== undefined) && (
              <span class="from-to">{t('welcome:fromTo', { from: c.from ?? t('welcome:none'), to: c.to ?? t('welcome:none') })}</span>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
