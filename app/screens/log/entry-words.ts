import type { LogRecord } from '../../care/log/records.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { formatLength, formatNumber } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';

/** What a record is, in a few words. */
export function entryTitle(record: LogRecord): string {
  if (record.kind === 'outcome') return t(`alert:outcome.${record.what}`);
  if (record.kind === 'change' && record.stopped) return t('log:kind.changeStopped');
  if (record.kind === 'alert') return t(`alert:title.${record.told}`);
  if (record.kind === 'note' && record.forVisit) return t('log:kind.question');
  return t(`log:kind.${record.kind}`);
}

/** What it was about, if that needs saying. */
export function entrySubtitle(record: LogRecord, plan: Plan, unit: 'cm' | 'in'): string | undefined {
  const name = (id: string): string => {
    const wound = plan.wounds.find((w) => w.id === id);
    return wound ? woundName(wound) : t('log:otherWound');
  };
  if (record.kind === 'change')
    return [name(record.wound), record.band && t(`check:drainageAmount.said.${record.band}`)].filter(Boolean).join(' · ');
  if (record.kind === 'measurement') {
    const size = [record.lengthMm, record.widthMm].filter((v) => v !== undefined).map((v) => formatLength(v, unit));
    return `${name(record.wound)} · ${size.join(' × ')}`;
  }
  if (record.kind === 'note') return record.text;
  if (record.kind === 'ownItem') return record.name;
  if (record.kind === 'stock') {
    const item = plan.supplies.find((s) => s.id === record.item)?.name;
    return [item, t(`supplies:moved.${record.movement}`, { amount: formatNumber(record.amount, 2) })].filter(Boolean).join(' · ');
  }
  if (record.kind === 'outcome') return record.said;
  if (record.kind === 'planAccepted') return t('log:planFrom', { clinic: record.accepted.clinic, revision: record.accepted.revision });
  return undefined;
}

/** Who made it: the person, or a caregiver by name. */
export function whoText(record: LogRecord): string {
  return record.by.name ? t(`log:by.${record.by.who}Named`, { name: record.by.name }) : t(`log:by.${record.by.who}`);
}
