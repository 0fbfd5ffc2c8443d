import { mergeLogs, timeline } from '../../app/care/log/timeline.ts';
import { planFromText, planToCode } from '../../app/exchange/plan-file.ts';
import { medianTime, ms, type Row } from './figures.ts';
import { makeRecords, plan, TEN_YEARS } from './made.ts';

/** Logs and plans in Node, without a page. */
export async function records(): Promise<Row[]> {
  const patient = makeRecords(TEN_YEARS);
  // Half of what the other phone has came from the first, half it wrote itself.
  const caregiver = [...patient.filter((_, i) => i % 2 === 0), ...makeRecords(TEN_YEARS / 2, { device: 'other' })];
  const merged = mergeLogs(patient, caregiver);
  const code = planToCode(plan);
  return [
    {
      what: `merging two logs of ten years (${patient.length} and ${caregiver.length} records into ${merged.length})`,
      ours: ms(await medianTime(15, () => timeline(mergeLogs(patient, caregiver)))),
    },
    { what: 'folding ten years of records into a timeline', ours: ms(await medianTime(15, () => timeline(patient))) },
    { what: `reading a plan from its code of ${code.length} characters`, ours: ms(await medianTime(301, () => planFromText(code))) },
  ];
}
