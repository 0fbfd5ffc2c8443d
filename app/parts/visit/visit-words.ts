import type { GlucoseUnit, TemperatureUnit } from '../../care/check/answers.ts';
import type { QuestionId } from '../../care/check/questions.ts';
import type { WoundSize } from '../../care/healing/sizes.ts';
import type { LocalDay } from '../../care/schedule/day.ts';
import type { AlertAnswer } from '../../care/visit/alerts-part.ts';
import type { CodePart } from '../../care/visit/answers-part.ts';
import type { Period } from '../../care/visit/period.ts';
import type { WoundPart } from '../../care/visit/summary.ts';
import { formatDays, formatDuration, formatShare } from '../../words/figures.ts';
import { formatArea, formatDay, formatLength, formatNumber, inARow } from '../../words/format.ts';
import { t } from '../../words/i18n.ts';
import { woundName } from '../../words/names.ts';

/** The units a page is shown in. */
export interface VisitUnits {
  temperature: TemperatureUnit;
  glucose: GlucoseUnit;
  length: 'cm' | 'in';
}

/** What is missing is said so, and never left out. */
export const missing = (): string => t('visit:missing');

export const nameOfWound = ({ wound }: Pick<WoundPart, 'wound'>): string => (wound ? woundName(wound) : t('visit:otherWound'));

/** The first and the last day, how many there are, and what the first goes by. */
export function periodText({ from, to, days, since }: Period): string {
  const span = t('visit:period.span', {
    from: formatDay(from, 'short'),
    to: formatDay(to, 'short'),
    days: t('visit:days', { count: days }),
  });
  return since === 'chosen' ? span : t('visit:period.why', { span, since: t(`visit:period.since.${since}`) });
}

/** Days by answer: the mildest as a number, the others by name, and how many have none. */
export function codeTexts(id: QuestionId, { answers, noAnswer }: CodePart, mildest: string): string[] {
  const said = answers.map(({ code, days }) => {
    const what = t(`check:${id}.said.${code}`);
    return code === mildest
      ? t('visit:codeDays', { what, days: t('visit:days', { count: days.length }) })
      : t('visit:codeOn', { what, days: formatDays(days) });
  });
  return [...said, ...(noAnswer > 0 ? [t('visit:noAnswer', { days: t('visit:days', { count: noAnswer }) })] : [])];
}

/** `2.2 × 1.6 cm, 2.8 cm²`; what was not measured is left out. */
export function sizeText(size: WoundSize, unit: 'cm' | 'in'): string {
  const sides = [size.lengthMm, size.widthMm].filter((mm) => mm !== undefined).map((mm) => formatLength(mm, unit));
  const [length, width] = sides;
  const flat = length && width ? t('common:size', { width: length, height: width }) : length;
  const depth = size.depthMm === undefined ? undefined : t('visit:size.depth', { depth: formatLength(size.depthMm, unit) });
  const area = size.areaMm2 === undefined ? undefined : formatArea(size.areaMm2, unit);
  return inARow([flat, depth, area].filter((part) => part !== undefined)) || missing();
}

/** How many days, and which. */
export const countedDays = (days: readonly LocalDay[]): string =>
  days.length === 0 ? formatNumber(0) : t('visit:countOf', { count: days.length, what: formatDays(days) });

/** What was done about an alert, and how long after it. */
export function answerOfAlert({ what, minutesAfter }: AlertAnswer): string {
  const did = t(`visit:did.${what}`);
  return minutesAfter === undefined ? did : t('visit:later', { did, time: formatDuration(minutesAfter) });
}

/** How an area stands to an earlier one. @param reductionPct how much of it is gone, in %; below nought where it has grown. */
export function courseText(reductionPct: number | undefined): string {
  if (reductionPct === undefined) return missing();
  const share = formatShare(Math.abs(reductionPct) / 100);
  if (Math.round(reductionPct) === 0) return t('visit:size.same');
  return t(reductionPct > 0 ? 'visit:size.smaller' : 'visit:size.larger', { share });
}
