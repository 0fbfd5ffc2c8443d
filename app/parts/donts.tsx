import type { Plan } from '../care/plan/plan.ts';
import { apart, t } from '../words/i18n.ts';

/** What not to do, from the list and in the clinic's own words. */
export function Donts({ plan }: { plan: Pick<Plan, 'donts' | 'ownDonts'> }) {
  const lines = [...plan.donts.map((d) => t(`plan:dont.${d}`)), ...plan.ownDonts.map((own) => apart(own))];
  if (lines.length === 0) return null;
  return (
    <section>
      <h2>{t('plan:donts')}</h2>
      <ul class="donts">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}
