import { areaOf } from '../../care/escalation/size.ts';
import type { LogRecord, RecordOf } from '../../care/log/records.ts';
import type { Plan } from '../../care/plan/plan.ts';
import { formatArea, formatLength, formatNumber, formatWeight } from '../../words/format.ts';
import { apart, t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { type Line, weighingLines } from '../weighing-lines.ts';

/** What a record is, in a few words. */
export function entryTitle(record: LogRecord): string {
  if (record.kind === 'outcome') return t(`alert:outcome.${record.what}`);
  if (record.kind === 'change' && record.stopped) return t('log:kind.changeStopped');
  if (record.kind === 'alert') return t(`alert:title.${record.told}`);
  if (record.kind === 'note' && record.forVisit) return t('log:kind.question');
  return t(`log:kind.${record.kind}`);
}

/** What it was about, if that needs saying: of an only wound its name does not. */
export function entrySubtitle(record: LogRecord, plan: Plan, unit: 'cm' | 'in'): string | undefined {
  const about = (id: string, ...more: (string | false | undefined)[]): string | undefined => {
    const wound = plan.wounds.find((w) => w.id === id);
    const name = wound ? plan.wounds.length > 1 && woundName(wound) : t('log:otherWound');
    return [name, ...more].filter(Boolean).join(' · ') || undefined;
  };
  if (record.kind === 'change') return about(record.wound, record.band && t(`check:drainageAmount.said.${record.band}`));
  if (record.kind === 'measurement') {
    const size = [record.lengthMm, record.widthMm].filter((v) => v !== undefined).map((v) => formatLength(v, unit));
    const area = record.areaMm2 === undefined ? [] : [formatArea(record.areaMm2, unit)];
    return about(record.wound, ...(size.length > 0 ? [size.join(' × ')] : area));
  }
  if (record.kind === 'weighing')
    return about(record.wound, t('log:weighed', { dry: formatWeight(record.dryG), used: formatWeight(record.usedG) }));
  if (record.kind === 'photo') return about(record.wound);
  if (record.kind === 'visit') return record.note && apart(record.note);
  if (record.kind === 'note') return apart(record.text);
  if (record.kind === 'ownItem') return apart(record.name);
  if (record.kind === 'stock') {
    const item = apart(plan.supplies.find((s) => s.id === record.item)?.name ?? '');
    return [item, t(`supplies:moved.${record.movement}`, { amount: formatNumber(record.amount, 2) })].filter(Boolean).join(' · ');
  }
  if (record.kind === 'outcome') return record.said && apart(record.said);
  if (record.kind === 'planAccepted') return t('log:planFrom', { clinic: record.accepted.clinic, revision: record.accepted.revision });
  return undefined;
}

/** The measured facts of a record one by one, where it has such. */
export function entryLines(record: LogRecord, unit: 'cm' | 'in'): Line[] {
  if (record.kind === 'weighing') return weighingLines(record);
  return record.kind === 'measurement' ? measurementLines(record, unit) : [];
}

function measurementLines(record: RecordOf<'measurement'>, unit: 'cm' | 'in'): Line[] {
  const lines = (['length', 'width', 'depth'] as const).flatMap((what): Line[] => {
    const mm = record[`${what}Mm`];
    return mm === undefined ? [] : [{ name: t(`log:size.${what}`), value: formatLength(mm, unit) }];
  });
  const area = areaOf({ ...record, at: 0 });
  return [
    { name: t('log:size.how'), value: t(`log:method.${record.method}`) },
    ...lines,
    ...(area === undefined ? [] : [{ name: t('log:size.area'), value: formatArea(area, unit) }]),
  ];
}

/** Who made it: the person, or a caregiver by name. */
export function whoText(record: LogRecord): string {
  return record.by.name ? t(`log:by.${record.by.who}Named`, { name: record.by.name }) : t(`log:by.${record.by.who}`);
}
