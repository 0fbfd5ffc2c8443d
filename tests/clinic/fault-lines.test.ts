import { beforeAll, describe, expect, test } from 'vitest';
import { type DraftPlan, finishDraft } from '../../app/care/plan/draft.ts';
import { deskFaults } from '../../app/clinic/fault-lines.ts';
import { AREAS, loadAreas, t, words } from '../../app/words/i18n.ts';
import { demoPlan } from '../care/plan/plans.ts';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});

const faultsOf = (change: (draft: DraftPlan) => DraftPlan) => {
  const draft = change(demoPlan());
  const reading = finishDraft(draft);
  return deskFaults(draft, reading.ok ? [] : reading.faults);
};

describe('what is missing in a draft', () => {
  test('is said in a sentence and leads to its field; an empty phone is missing, not malformed', () => {
    const lines = faultsOf((d) => ({ ...d, clinic: { ...d.clinic, name: '', phone: '' }, person: { ...d.person, callMe: ' ' } }));
    expect(lines).toEqual([
      { line: 'Clinic name is missing.', part: 'clinic', field: 'clinic.name' },
      { line: 'Clinic phone is missing.', part: 'clinic', field: 'clinic.phone' },
      { line: 'What to call the person is missing.', part: 'clinic', field: 'person.callMe' },
    ]);
  });

  test('what is there but wrong is named as the form names it', () => {
    const [line] = faultsOf((d) => ({ ...d, clinic: { ...d.clinic, phone: 'call me' } }));
    expect(line).toMatchObject({ field: 'clinic.phone' });
    expect(line?.line).toContain(t('clinic:clinic.phone'));
    expect(line?.line).toContain(t('plan:fault.notAPhone'));
  });

  test('what has no field of its own leads to its part, and nothing is said twice', () => {
    const lines = faultsOf((d) => ({ ...d, supplies: [{ ...d.supplies[0], name: '' } as never, ...d.supplies.slice(1)] }));
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatchObject({ part: 'recipes', field: undefined });
  });
});
