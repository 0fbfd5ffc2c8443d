import type { DraftPlan } from '../care/plan/draft.ts';
import type { PlanFault } from '../care/plan/faults.ts';
import { faultLines } from '../words/faults.ts';
import { hasWords, t } from '../words/i18n.ts';

/** What is missing or malformed in a draft, as a sentence, and where in the form it is put right. */
export interface FaultLine {
  line: string;
  /** The part of the form. */
  part: string;
  /** The field's own path, as fields of the form carry it; undefined where the form has no single field for it. */
  field: string | undefined;
}

/** Fields that a plan cannot do without, by their path, with the key of what the form calls them. */
const NAMED: Readonly<Record<string, string>> = {
  'clinic.name': 'clinic:clinic.name',
  'clinic.phone': 'clinic:clinic.phone',
  'clinic.zone': 'clinic:clinic.zone',
  'clinic.outOfHoursPhone': 'clinic:clinic.outOfHours',
  'clinic.emergencyNumber': 'clinic:clinic.emergency',
  'person.callMe': 'clinic:person.callMe',
  reviewBy: 'clinic:dates.review',
  'nextVisit.day': 'clinic:dates.visit',
};

const PART_OF: Readonly<Record<string, string>> = {
  clinic: 'clinic',
  person: 'clinic',
  greeting: 'clinic',
  wounds: 'recipes',
  supplies: 'recipes',
  reviewBy: 'dates',
  nextVisit: 'dates',
  joinWithinHours: 'dates',
};

/** Whether nothing stands in a field, whatever the schema says of it: an empty phone is missing, not malformed. */
function isEmpty(draft: DraftPlan, path: PlanFault['path']): boolean {
  const value = path.reduce<unknown>((now, part) => (now as Record<string, unknown> | undefined)?.[part], draft);
  return value === undefined || (typeof value === 'string' && value.trim() === '');
}

/** Every fault of a draft, one line each. */
export function deskFaults(draft: DraftPlan, faults: readonly PlanFault[]): FaultLine[] {
  const lines = faults.map((fault): FaultLine => {
    const path = fault.path.join('.');
    const name = NAMED[path];
    const part = PART_OF[String(fault.path[0])] ?? 'rules';
    const missing = `clinic:missing.${fault.path.at(-1)}`;
    if (name !== undefined && isEmpty(draft, fault.path) && hasWords(missing)) return { line: t(missing), part, field: path };
    if (name !== undefined)
      return { line: t('welcome:faultLine', { field: t(name), fault: t(`plan:fault.${fault.fault}`) }), part, field: path };
    return { line: faultLines([fault])[0] ?? '', part, field: undefined };
  });
  return lines.filter((own, i) => lines.findIndex((l) => l.line === own.line) === i);
}
