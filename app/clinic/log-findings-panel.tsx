import type { LogFinding, LogFindingId } from '../care/visit/log-findings.ts';
import type { WoundPart } from '../care/visit/summary.ts';
import { nameOfWound } from '../parts/visit/visit-words.ts';
import { formatDays } from '../words/figures.ts';
import { t } from '../words/i18n.ts';
import { logFindingText } from './log-finding-words.ts';

/** What a finding is about, as its heading, and the part of the form where the plan answers it. */
const KIND_OF: Readonly<Record<LogFindingId, readonly [kind: string, part: string | undefined]>> = {
  alertOpen: ['alert', 'rules'],
  fever: ['temperature', 'rules'],
  raised: ['temperature', 'rules'],
  feltFever: ['temperature', 'rules'],
  tooWet: ['fit', 'recipes'],
  tooDry: ['fit', 'recipes'],
  above: ['drainage', 'recipes'],
  below: ['drainage', 'recipes'],
  late: ['interval', 'recipes'],
  early: ['interval', 'recipes'],
  size: ['size', 'seen'],
  supply: ['supply', 'recipes'],
  question: ['question', undefined],
  mention: ['mention', undefined],
};
/** These say their day in the sentence, or speak of the end of the period. */
const WITHOUT_DAYS: readonly LogFindingId[] = ['supply'];

interface Props {
  found: readonly LogFinding[];
  wounds: readonly WoundPart[];
  /** Goes to the part of the form where the plan answers a finding. */
  onShow?: (part: string, wound: string | undefined) => void;
}

/** What a log says against the plan in force, each with the days it rests on. */
export function LogFindings({ found, wounds, onShow }: Props) {
  if (found.length === 0) return <p>{t('clinic:found.nothing')}</p>;
  return (
    <ul class="log-findings">
      {found.map((f, i) => {
        const wound = 'wound' in f ? f.wound : undefined;
        const [kind, part] = KIND_OF[f.id];
        const place = wound !== undefined && wounds.length > 1 && nameOfWound(wounds.find((w) => w.id === wound) ?? { wound: undefined });
        return (
          <li key={`${f.id}-${i}`} data-found={f.id}>
            <p>
              <strong>{t(`clinic:found.kind.${kind}`)}</strong> {place && <span class="finding-place">{place}</span>}
            </p>
            {f.id === 'question' ? <q dir="auto">{f.text}</q> : <p>{logFindingText(f)}</p>}
            {!WITHOUT_DAYS.includes(f.id) && <p class="f-hint">{t('clinic:found.days', { days: formatDays(f.days) })}</p>}
            {onShow && part && (
              <button type="button" class="link" onClick={() => onShow(part, wound)}>
                {t('clinic:findings.show')}
              </button>
            )}
          </li>
        );
      })}
    </ul>
  );
}
