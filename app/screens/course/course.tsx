import './course.css';
import { useState } from 'preact/hooks';
import { drainageOf } from '../../care/drainage/drainage.ts';
import { healingOf } from '../../care/healing/healing.ts';
import { lastFound } from '../../care/log/history.ts';
import { seriesOf } from '../../care/log/series.ts';
import { limitsOf } from '../../care/plan/limits-of.ts';
import type { Wound } from '../../care/plan/plan.ts';
import { pauseDays } from '../../parts/chart/wound-charts.ts';
import { Choices } from '../../parts/choice.tsx';
import { Drawing } from '../../parts/drawing.tsx';
import { Page } from '../../parts/page.tsx';
import type { Book } from '../../store/book.ts';
import { formatDay } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';
import { useBook, useNow } from '../context.ts';
import { goBack } from '../route.ts';
import { unitsOf } from '../units.ts';
import { useEntries } from '../use-entries.ts';
import { GlucosePart, PainPart, TemperaturePart, WarmthPart } from './check-parts.tsx';
import { DrainagePart } from './drainage-part.tsx';
import { allPoints, countAhead, PERIODS, type Period, spanOf } from './period.ts';
import { SizePart } from './size-part.tsx';

/** The wounds of the plan, then those of earlier plans that are no longer in it. */
function woundsOf({ plan, earlierPlans }: Book): Wound[] {
  const known = new Map(plan.wounds.map((w) => [w.id, w]));
  // The latest plan knows best what a wound is called.
  for (const earlier of [...earlierPlans].reverse()) for (const w of earlier.wounds) if (!known.has(w.id)) known.set(w.id, w);
  return [...known.values()];
}

/** How one wound has gone: facts in sentences, each over its picture. No verdict, and what is missing is said. */
export function CourseScreen() {
  const { notebook, state, book } = useBook();
  useNow(notebook);
  const [period, setPeriod] = useState<Period>('threeMonths');
  const wounds = woundsOf(book);
  const [chosen, setChosen] = useState(wounds[0]?.id ?? '');
  const wound = wounds.find((w) => w.id === chosen) ?? (wounds[0] as Wound);
  const { entries, older } = useEntries(period !== 'twoWeeks');
  const today = notebook.today();
  const series = seriesOf(entries, book.plan, wound, book.earlierPlans);
  const span = spanOf(period, today, series);
  const now = { at: notebook.device.now(), day: today };
  const limits = limitsOf(book.plan, wound, lastFound(entries, wound.id, now.at));
  const healing = healingOf(entries, wound, now, limits.thresholds.growthShare);
  const drainage = drainageOf(book.plan, entries, wound.id, now.at, notebook.device.zone(), { older: book.earlierPlans });
  // A wound of an earlier plan is looked back on; nothing more is measured or weighed there.
  const when = { period, span, isOver: !book.plan.wounds.some((w) => w.id === wound.id) };
  const checks = { ...when, units: unitsOf(state), limits: limits.thresholds };
  const ahead = countAhead(series, today);
  // What the plan says of the size is no entry of the person's.
  const isEmpty = allPoints(series).every((p) => p.record === undefined);

  return (
    <Page title={t('course:title')} over={book.plan.person.callMe} back={() => goBack('today')} class="course">
      {wounds.length > 1 && (
        <Choices
          legend={t('course:whichWound')}
          choices={wounds.map((w) => ({ value: w.id, label: woundName(w) }))}
          chosen={[wound.id]}
          onChange={([id]) => setChosen(id ?? wound.id)}
        />
      )}
      <div class="course-periods">
        <Choices
          legend={t('course:period')}
          choices={PERIODS.map((p) => ({ value: p, label: t(`course:last.${p}`) }))}
          chosen={[period]}
          onChange={([p]) => setPeriod(p as Period)}
        />
      </div>
      <p class="lead">
        {t('course:what', { wound: woundName(wound), from: formatDay(span.from, 'short'), to: formatDay(span.to, 'short') })}
      </p>
      <p role="status">{older === 'reading' ? t('common:wait') : older === 'failed' ? t('course:notRead') : ''}</p>
      {isEmpty && older !== 'reading' && (
        <>
          <Drawing name="logEmpty" />
          <p class="lead">{t('course:empty')}</p>
        </>
      )}
      {ahead > 0 && <p class="notice">{t('course:ahead', { count: ahead })}</p>}
      <SizePart {...when} points={series.area} unit={checks.units.length} healing={healing} />
      {!isEmpty && (
        <>
          <DrainagePart {...when} points={series.drainage} wound={wound} gapDays={pauseDays(limits.changeEveryHours)} drainage={drainage} />
          {(book.plan.asks.includes('warmth') || series.warmth.length > 0) && <WarmthPart {...checks} points={series.warmth} />}
          <TemperaturePart {...checks} points={series.temperature} />
          <PainPart {...when} points={series.pain} />
          {book.plan.asks.includes('glucose') && <GlucosePart {...checks} points={series.glucose} />}
        </>
      )}
      <p class="caution">{t('common:caution')}</p>
    </Page>
  );
}
