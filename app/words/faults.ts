import type { PlanFault } from '../care/plan/plan.ts';
import { inARow } from './format.ts';
import { hasWords, t } from './i18n.ts';

/** Where in a plan a fault is, in plain words: "Wound 1, drainage range". */
function fieldName(path: PlanFault['path']): string {
  const names: string[] = [];
  path.forEach((part, i) => {
    if (typeof part === 'number') return;
    const at = path[i + 1];
    const key = `plan:field.${part}`;
    if (!hasWords(key)) return;
    names.push(typeof at === 'number' ? t('plan:field.numbered', { field: t(key), number: at + 1 }) : t(key));
  });
  return names.length > 0 ? inARow(names) : t('plan:field.plan');
}

/** Every fault as one sentence that names the field. */
export function faultLines(faults: readonly PlanFault[]): string[] {
  const lines = faults.map((f) => t('welcome:faultLine', { field: fieldName(f.path), fault: t(`plan:fault.${f.fault}`) }));
  return [...new Set(lines)];
}
