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
interface Props {
  found: readonly LogFinding[];
  wounds: readonly WoundPart[];
  /** Goes to the part of the form where the plan answers a finding. */
  onShow?: ((part: string, wound: string | undefined) => void) | undefined;
}

/** What a log says against the plan in force, by what it is about, each with the days it rests on. */
export function LogFindings({ found, wounds, onShow }: Props) {
  if (found.length === 0) return <p>{t('clinic:found.nothing')}</p>;
  const kinds = [...new Set(found.map((f) => KIND_OF[f.id][0]))];
  return (
    <div class="log-findings">
      {kinds.map((kind) => (
        <section key={kind}>
          <h3>{t(`clinic:found.kind.${kind}`)}</h3>
          <ul>
            {found
              .filter((f) => KIND_OF[f.id][0] === kind)
              .map((f, i) => (
                <Finding key={`${f.id}-${i}`} finding={f} wounds={wounds} onShow={onShow} />
              ))}
          </ul>
        </section>
      ))}
    </div>
  );
}

function Finding({ finding, wounds, onShow }: Pick<Props, 'wounds' | 'onShow'> & { finding: LogFinding }) {
  const wound = 'wound' in finding ? finding.wound : undefined;
  const [, part] = KIND_OF[finding.id];
  const place = wound !== undefined && wounds.length > 1 && nameOfWound(wounds.find((w) => w.id === wound) ?? { wound: undefined });
  return (
    <li data-found={finding.id}>
      {place && <p class="finding-place">{place}</p>}
      {finding.id === 'question' ? <q dir="auto">{finding.text}</q> : <p>{logFindingText(finding)}</p>}
      {finding.id !== 'supply' && (
        <p class="f-hint">
          {t(finding.id === 'question' ? 'clinic:found.written' : 'clinic:found.days', { days: formatDays(finding.days) })}
        </p>
      )}
      {onShow && part && (
        <button type="button" class="link" onClick={() => onShow(part, wound)}>
          {t('clinic:findings.show')}
        </button>
      )}
    </li>
  );
}
