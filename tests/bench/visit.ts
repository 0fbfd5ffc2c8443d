import { existsSync } from 'node:fs';
import { timeline } from '../../app/care/log/timeline.ts';
import { medianTime, ms, type Row } from './figures.ts';
import { LAST, makeRecords, NOW, plan } from './made.ts';

const MODULE = new URL('../../app/care/visit/summary.ts', import.meta.url);
const WHAT = 'visit summary of a year';

interface VisitModule {
  visitSummary: (input: object) => { checks: object };
}

/** The summary for the appointment, of a log of a year. */
export async function visit(): Promise<Row[]> {
  if (!existsSync(MODULE)) return [{ what: WHAT, ours: 'not measured: this version makes no visit summary' }];
  const { visitSummary } = (await import(MODULE.href)) as VisitModule;
  const entries = timeline(makeRecords(365));
  const input = { plan, earlierPlans: [], entries, from: entries[0]?.first.day, to: LAST, now: NOW, zone: 'America/Chicago' };
  return [{ what: `${WHAT} (${entries.length} entries)`, ours: ms(await medianTime(15, () => visitSummary(input))), goal: 'under 1 s' }];
}
