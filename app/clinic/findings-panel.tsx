import { type Finding, GRAVITIES, type Gravity } from '../care/plan/findings.ts';
import { t } from '../words/i18n.ts';
import { useDesk } from './desk-context.ts';
import { woundOf } from './desk-state.ts';
import { draftWoundName } from './draft-names.ts';
import type { FaultLine } from './fault-lines.ts';
import { findingText } from './finding-words.ts';
import { Source } from './source.tsx';

/** Which part of the form a finding is put right in. */
const PART_OF: Readonly<Record<string, string>> = {
  'place-open': 'seen',
  'same-place': 'seen',
  'no-size': 'seen',
  'no-offloading': 'rules',
  'no-out-of-hours-phone': 'clinic',
  'no-emergency-number': 'clinic',
  'no-hours': 'clinic',
  'review-date': 'dates',
  'visit-day': 'dates',
  'visit-time': 'dates',
  'loosens-escalation': 'rules',
};

/** The one field that puts a finding right, where there is one. */
const FIELD_OF: Readonly<Record<string, string>> = {
  'place-open': 'site',
  'same-place': 'label',
  'no-offloading': 'device',
  'no-out-of-hours-phone': 'clinic.outOfHoursPhone',
  'no-emergency-number': 'clinic.emergencyNumber',
  'review-date': 'reviewBy',
  'visit-day': 'nextVisit.day',
  'visit-time': 'nextVisit.time',
};

/** The sign of a gravity: shape and word, never colour alone. */
export function GravityMark({ gravity }: { gravity: Gravity }) {
  return (
    <svg class={`gravity gravity-${gravity}`} viewBox="0 0 24 24" aria-hidden="true">
      {gravity === 'stops' && <path d="M8 2h8l6 6v8l-6 6H8l-6-6V8z" />}
      {gravity === 'warns' && <path d="M12 3l10 18H2z" />}
      {gravity === 'tells' && <circle cx="12" cy="12" r="5" />}
    </svg>
  );
}

interface Props {
  found: readonly Finding[];
  /** What is missing or malformed, as sentences. */
  faults: readonly FaultLine[];
  onShow: (part: string, wound: string | undefined, field?: string | undefined) => void;
}

/** Everything to know about the plan as it stands, gravest first. */
export function FindingsPanel({ found, faults, onShow }: Props) {
  const { state } = useDesk();
  const where = (f: Finding): string | undefined => {
    const wound = f.wound === undefined ? undefined : woundOf(state, f.wound);
    const parts = [
      state.draft.wounds.length > 1 && wound && draftWoundName(state.draft, wound),
      f.band && t('clinic:findings.band', { band: t(`clinic:band.${f.band}`) }),
    ];
    return parts.filter(Boolean).join(' · ') || undefined;
  };
  const row = (f: Finding, i: number) => {
    const place = where(f);
    return (
      <li key={`${f.id}${f.wound ?? ''}${f.band ?? ''}${f.variant ?? ''}${i}`} class={`finding finding-${f.gravity}`} data-finding={f.id}>
        <GravityMark gravity={f.gravity} />
        <div>
          <p>
            <strong>{t(`clinic:gravity.${f.gravity}`)}</strong>
            {place && <span class="finding-place">{` · ${place}`}</span>}
          </p>
          <p>
            {findingText(f)} <Source rows={f.source} />
          </p>
          <button type="button" class="link" onClick={() => onShow(PART_OF[f.id] ?? 'recipes', f.wound, FIELD_OF[f.id])}>
            {t('clinic:findings.show')}
          </button>
        </div>
      </li>
    );
  };
  const of = (gravity: Gravity) => found.filter((f) => f.gravity === gravity);
  return (
    <section class="findings" aria-labelledby="findings-title">
      <h2 id="findings-title">{t('clinic:findings.title')}</h2>
      <p class="counts" role="status">
        {GRAVITIES.map((g) => (
          <span key={g} class={`count count-${g}`}>
            <GravityMark gravity={g} />
            {t(`clinic:findings.${g}`, { count: of(g).length + (g === 'stops' ? faults.length : 0) })}
          </span>
        ))}
      </p>
      <ul>
        {of('stops').map(row)}
        {faults.map(({ line, part, field }) => (
          <li key={line} class="finding finding-stops" data-finding="fault">
            <GravityMark gravity="stops" />
            <div>
              <p>
                <strong>{t('clinic:gravity.stops')}</strong>
              </p>
              <p>{line}</p>
              <button
                type="button"
                class="link"
                aria-label={t('clinic:findings.showWhat', { what: line })}
                onClick={() => onShow(part, undefined, field)}
              >
                {t('clinic:findings.show')}
              </button>
            </div>
          </li>
        ))}
        {[...of('warns'), ...of('tells')].map(row)}
      </ul>
      {found.length === 0 && faults.length === 0 && <p class="f-hint">{t('clinic:findings.nothing')}</p>}
    </section>
  );
}
