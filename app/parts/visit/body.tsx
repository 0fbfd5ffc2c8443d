import { ARMPIT_FEVER_LOWER_C } from '../../care/escalation/facts.ts';
import { GLUCOSE_LOW_MGDL } from '../../care/escalation/limits.ts';
import type { TemperaturePart, WarmthPart } from '../../care/visit/answers-part.ts';
import type { ChecksPart } from '../../care/visit/checks-part.ts';
import type { VisitSummary } from '../../care/visit/summary.ts';
import { formatCelsius, formatDays, formatDifference, formatGlucose, formatShortDay } from '../../words/figures.ts';
import { formatReading } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { footName } from '../../words/names.ts';
import { type FactRow, Facts, useSay } from './speak.tsx';
import { codeTexts, missing, type VisitUnits } from './visit-words.ts';

/** Checks done, and what they say of the whole person and of each foot. */
export function Body({ summary, units }: { summary: VisitSummary; units: VisitUnits }) {
  return useSay()(() => {
    const { checks, temperature, feet, offloading, glucose } = summary;
    const several = feet.length > 1;
    return (
      <Facts
        rows={[
          ...checkRows(checks),
          ...temperatureRows(temperature, checks.days, units),
          ...feet.flatMap(({ side, pain, warmth }): FactRow[] => {
            const of = (what: string): string => (several ? t('visit:ofFoot', { what, foot: footName(side) }) : what);
            return [
              { label: of(t('check:pain.short')), value: codeTexts('pain', pain, 'usual') },
              { label: of(t('check:warmth.short')), value: warmthTexts(warmth) },
            ];
          }),
          offloading.asked || offloading.answers.length > 0
            ? { label: t('check:offloading.short'), value: codeTexts('offloading', offloading, 'always') }
            : undefined,
          glucose.asked || glucose.readings > 0 ? { label: t('check:glucose.short'), value: glucoseTexts(summary) } : undefined,
        ]}
      />
    );
  });
}

function checkRows({ days, done, cutShort, none, todayOpen }: ChecksPart): (FactRow | undefined)[] {
  const doneOf = t('visit:checks.of', { done, days: t('visit:days', { count: days }) });
  return [
    { label: t('visit:checks.done'), value: todayOpen ? t('visit:checks.todayOpen', { done: doneOf }) : doneOf },
    cutShort.length > 0 ? { label: t('visit:checks.cutShort'), value: formatDays(cutShort) } : undefined,
    none.length > 0 ? { label: t('visit:checks.none'), value: formatDays(none) } : undefined,
  ];
}

const listOf = (days: TemperaturePart['feverDays']): string => (days.length === 0 ? t('visit:noDay') : formatDays(days));

function temperatureRows(part: TemperaturePart, days: number, units: VisitUnits): (FactRow | undefined)[] {
  const { highest, feverDays, raisedDays, felt, feltUnsure, limitC, measuredDays } = part;
  // Limits stand in the unit of the readings beside them.
  const unit = highest?.unit ?? units.temperature;
  const limit = t('visit:temperature.fever', {
    limit: formatCelsius(limitC, unit),
    armpit: formatCelsius(limitC - ARMPIT_FEVER_LOWER_C, unit),
  });
  const reading = highest && {
    reading: formatReading(highest.value, highest.unit),
    where: t(`check:temperature.site.${highest.site}`),
    day: formatShortDay(highest.day),
  };
  return [
    {
      label: t('visit:temperature.highest'),
      value: reading
        ? [t('visit:temperature.reading', reading), t('visit:measuredOn', { done: measuredDays, days: t('visit:days', { count: days }) })]
        : missing(),
    },
    // Without a reading nobody knows whether there was a fever.
    { label: limit, value: reading ? listOf(feverDays) : t('visit:notKnown'), strong: feverDays.length > 0 },
    raisedDays.length > 0 ? { label: t('visit:temperature.raised'), value: formatDays(raisedDays) } : undefined,
    felt.length > 0 ? { label: t('visit:temperature.felt'), value: formatDays(felt), strong: true } : undefined,
    feltUnsure.length > 0 ? { label: t('visit:temperature.feltUnsure'), value: formatDays(feltUnsure) } : undefined,
  ];
}

function warmthTexts({ felt, asked, highest, measuredDays, overDays, limitC }: WarmthPart): string[] {
  const felts = codeTexts('warmth', felt, 'same');
  if (!highest) return asked ? [...felts, missing()] : felts;
  const place = { difference: formatDifference(highest.differenceC, highest.unit), place: highest.site, day: formatShortDay(highest.day) };
  return [
    ...felts,
    t('visit:warmth.highest', { ...place, days: t('visit:days', { count: measuredDays }) }),
    t('visit:warmth.over', { limit: formatDifference(limitC, highest.unit), days: listOf(overDays) }),
  ];
}

function glucoseTexts({ glucose, checks }: VisitSummary): string[] {
  const { lowest, highest, highDays, lowDays, limitMgdl, measuredDays } = glucose;
  if (!lowest || !highest) return [missing()];
  return [
    t('visit:glucose.range', {
      least: formatReading(lowest.value, lowest.unit),
      leastDay: formatShortDay(lowest.day),
      most: formatReading(highest.value, highest.unit),
      mostDay: formatShortDay(highest.day),
    }),
    t('visit:glucose.over', { limit: formatGlucose(limitMgdl, highest.unit), days: listOf(highDays) }),
    t('visit:glucose.under', { limit: formatGlucose(GLUCOSE_LOW_MGDL, lowest.unit), days: listOf(lowDays) }),
    t('visit:measuredOn', { done: measuredDays, days: t('visit:days', { count: checks.days }) }),
  ];
}
