import {
  type TEMPERATURE_SITES,
  type TemperatureAnswer,
  toCelsius,
  toCelsiusDifference,
  toMgdl,
  type WarmthAnswer,
} from '../check/answers.ts';
import type { Band, Code } from '../check/questions.ts';
import { areaOf } from '../escalation/size.ts';
import type { Plan, Side, Wound } from '../plan/plan.ts';
import { instantOf, type LocalDay } from '../schedule/day.ts';
import type { LogRecord, MeasureMethod } from './records.ts';
import { type Entry, standing } from './timeline.ts';

/**
 * What was written down over time, one list for each thing that is followed.
 * Corrections are folded in at the moment of the first entry, withdrawn
 * entries are gone, every list is oldest first. Nothing is averaged or filled
 * in: what was not measured is no point, what was asked and could not be
 * answered is a point without a value.
 */
export interface SeriesPoint {
  /** The record it comes from; undefined for a size that stands in the plan. */
  record: string | undefined;
  /** ms since 1970, UTC. */
  at: number;
  /** The day where the person was, and the zone of that day. */
  day: LocalDay;
  zone: string;
}

/** A measured size, mm². Sizes of different methods are not comparable as they stand [EV-HEA-13]. */
export interface AreaPoint extends SeriesPoint {
  areaMm2: number;
  method: MeasureMethod;
}

/** What was found on the dressing at one change, or when one was broken off after the look. */
export interface DrainagePoint extends SeriesPoint {
  /** Undefined where the wound was covered before anybody looked. */
  amount: Band | 'unsure' | undefined;
  /** What the plan of that day expects, driest to wettest; undefined where no plan at hand knows the wound. */
  expected: readonly [Band, Band] | undefined;
  /** Broken off after the look: the amount was seen, the dressing was not changed. */
  stopped: boolean;
}

/** The pair of places that differed most in one check. */
export interface WarmthPoint extends SeriesPoint {
  /** Foot with the wound less the other foot, °C; negative when the other one is warmer. */
  differenceC: number;
  /** Name of the place. */
  place: string;
  /** How many pairs were measured. */
  pairs: number;
}

export type TemperatureSite = (typeof TEMPERATURE_SITES)[number];

/** One reading of the thermometer, or what was felt where there was none. */
export interface TemperaturePoint extends SeriesPoint {
  /** °C; undefined without a thermometer. */
  tempC: number | undefined;
  site: TemperatureSite | undefined;
  feelsFeverish: 'no' | 'unsure' | 'yes' | undefined;
}

export interface PainPoint extends SeriesPoint {
  pain: Code<'pain'>;
}

export interface GlucosePoint extends SeriesPoint {
  /** As written where it was written in mg/dL, else converted to whole mg/dL [EV-INF-24]. */
  mgdl: number;
}

/** Everything that can be followed of one wound and its person. */
export interface WoundSeries {
  area: readonly AreaPoint[];
  drainage: readonly DrainagePoint[];
  warmth: readonly WarmthPoint[];
  temperature: readonly TemperaturePoint[];
  pain: readonly PainPoint[];
  /** Empty unless the plan asks for it. */
  glucose: readonly GlucosePoint[];
}

const pointOf = (first: LogRecord): SeriesPoint => ({ record: first.id, at: Date.parse(first.at), day: first.day, zone: first.zone });
const inTime = <P extends SeriesPoint>(points: readonly P[]): P[] => [...points].sort((a, b) => a.at - b.at);

/**
 * The course of one wound.
 * @param older plans in force before, oldest first: a change is held against
 * what its own plan expected, and sizes that a clinic wrote into a plan count.
 */
export function seriesOf(
  entries: readonly Entry[],
  plan: Plan,
  wound: Pick<Wound, 'id' | 'side'>,
  older: readonly Plan[] = [],
): WoundSeries {
  return {
    area: areaSeries(entries, wound.id, [...older, plan]),
    drainage: drainageSeries(entries, wound.id, [...older, plan]),
    warmth: warmthSeries(entries, wound.side),
    temperature: temperatureSeries(entries),
    pain: painSeries(entries, wound.side),
    glucose: plan.asks.includes('glucose') ? glucoseSeries(entries) : [],
  };
}

/** Sizes by measurement, those that the clinic wrote into its plans among them. */
export function areaSeries(entries: readonly Entry[], woundId: string, plans: readonly Plan[] = []): AreaPoint[] {
  const measured = standing(entries, 'measurement')
    .filter((e) => e.now.wound === woundId)
    .flatMap((e): AreaPoint[] => {
      const areaMm2 = areaOf({ ...e.now, at: 0 });
      return areaMm2 === undefined ? [] : [{ ...pointOf(e.first), areaMm2, method: e.now.method }];
    });
  const planned = new Map<string, AreaPoint>();
  for (const plan of plans) {
    const baseline = plan.wounds.find((w) => w.id === woundId)?.baseline;
    if (!baseline) continue;
    const areaMm2 = areaOf({ ...baseline, at: 0 });
    if (areaMm2 === undefined) continue;
    // A plan names a day and no time; its size comes before what was measured at home that day.
    const at = instantOf(baseline.day, 0, plan.clinic.zone);
    planned.set(`${baseline.day} ${areaMm2}`, {
      record: undefined,
      at,
      day: baseline.day,
      zone: plan.clinic.zone,
      areaMm2,
      method: 'clinic',
    });
  }
  return inTime([...planned.values(), ...measured]);
}

/** The amount of fluid by change, with what the plan of the day expected. */
export function drainageSeries(entries: readonly Entry[], woundId: string, plans: readonly Plan[] = []): DrainagePoint[] {
  const expectedIn = (record: LogRecord): readonly [Band, Band] | undefined => {
    const own = plans.find((p) => p.id === record.plan?.id && p.revision === record.plan.revision) ?? plans.at(-1);
    return own?.wounds.find((w) => w.id === woundId)?.expectedDrainage;
  };
  const points = standing(entries, 'change')
    .filter((e) => e.now.wound === woundId)
    // A change broken off before the look found nothing out, and was none.
    .filter((e) => !e.now.stopped || e.now.answers?.drainageAmount !== undefined)
    .map((e) => ({
      ...pointOf(e.first),
      amount: e.now.answers?.drainageAmount,
      expected: expectedIn(e.first),
      stopped: e.now.stopped ?? false,
    }));
  return inTime(points);
}

/** The largest measured difference between the feet, by check. What was only felt is no measurement. */
export function warmthSeries(entries: readonly Entry[], side: Side): WarmthPoint[] {
  return inTime(
    standing(entries, 'check').flatMap((e): WarmthPoint[] => {
      const warmth: WarmthAnswer | undefined = e.now.feet[side]?.warmth;
      if (warmth === undefined || typeof warmth === 'string') return [];
      const pairs = warmth.pairs.map((p) => ({
        place: p.site,
        differenceC: toCelsiusDifference(p.woundSide - p.otherSide, p.unit ?? 'Cel'),
      }));
      const most = pairs.reduce((a, b) => (b.differenceC > a.differenceC ? b : a));
      return [{ ...pointOf(e.first), ...most, pairs: pairs.length }];
    }),
  );
}

/** Body temperature by check. A check with a second reading gives two points. */
export function temperatureSeries(entries: readonly Entry[]): TemperaturePoint[] {
  return inTime(
    standing(entries, 'check').flatMap((e): TemperaturePoint[] => {
      const given: TemperatureAnswer | undefined = e.now.person.temperature;
      if (given === undefined) return [];
      const point = pointOf(e.first);
      if ('feelsFeverish' in given) return [{ ...point, tempC: undefined, site: undefined, feelsFeverish: given.feelsFeverish }];
      // Where no site was written down it was the mouth, as in the rules.
      const site = given.site ?? 'mouth';
      return [given.value, ...(given.again === undefined ? [] : [given.again])].map((value) => ({
        ...point,
        tempC: toCelsius(value, given.unit),
        site,
        feelsFeverish: undefined,
      }));
    }),
  );
}

/** Pain in the foot, by check. */
export function painSeries(entries: readonly Entry[], side: Side): PainPoint[] {
  return inTime(
    standing(entries, 'check').flatMap((e): PainPoint[] => {
      const pain = e.now.feet[side]?.pain;
      return pain === undefined ? [] : [{ ...pointOf(e.first), pain }];
    }),
  );
}

/** Blood sugar by check. */
export function glucoseSeries(entries: readonly Entry[]): GlucosePoint[] {
  return inTime(
    standing(entries, 'check').flatMap((e): GlucosePoint[] => {
      const given = e.now.person.glucose;
      if (given === undefined) return [];
      return [{ ...pointOf(e.first), mgdl: given.unit === 'mg/dL' ? given.value : toMgdl(given.value, given.unit) }];
    }),
  );
}
