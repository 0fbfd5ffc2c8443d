import { timeline } from '../../app/care/log/timeline.ts';
import { visitSummary } from '../../app/care/visit/summary.ts';
import { medianTime, ms, type Row } from './figures.ts';
import { LAST, makeRecords, NOW, plan } from './made.ts';

/** The summary for the appointment, of a log of a year. */
export async function visit(): Promise<Row[]> {
  const entries = timeline(makeRecords(365));
  const input = { plan, earlierPlans: [], entries, from: entries[0]?.first.day, to: LAST, now: NOW, zone: 'America/Chicago' };
  const time = await medianTime(15, () => visitSummary(input));
  return [{ what: `visit summary of a year (${entries.length} entries)`, ours: ms(time), goal: 'under 1 s' }];
}
