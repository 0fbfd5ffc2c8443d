import type { Band } from '../check/questions.ts';
import type { LocalDay } from '../schedule/day.ts';
import type { Level } from './levels.ts';

/** Thresholds of the rule table. A plan may make each one stricter, never laxer. */
export interface Thresholds {
  /** Fever from this temperature on, °C; 0.5 lower in the armpit [EV-FEV-01]. */
  feverC: number;
  /** Raised from this temperature on, °C; 0.6 lower in the armpit [EV-FEV-01, EV-FEV-02]. */
  raisedC: number;
  /** A measured pair is warm above this difference, °C [EV-TMP-04]. */
  warmthDifferenceC: number;
  /** Glucose is high above this, mg/dL (practice). */
  glucoseHighMgdl: number;
  /** Glucose is high for someone who is ill from this on, mg/dL [EV-INF-21]. */
  glucoseHighIllMgdl: number;
  /** Wounds may grow by this share before it counts [EV-HEA-01]. */
  growthShare: number;
}

export const DEFAULT_THRESHOLDS: Thresholds = {
  feverC: 38.0,
  raisedC: 37.8,
  warmthDifferenceC: 2.2,
  glucoseHighMgdl: 300,
  glucoseHighIllMgdl: 240,
  growthShare: 0.2,
};

/** Glucose is low below this, mg/dL; no plan changes it [EV-INF-19, ADA Standards]. */
export const GLUCOSE_LOW_MGDL = 70;

/** How low a plan may set each threshold; below these nearly everybody would be called in daily. */
export const STRICTEST_THRESHOLDS: Thresholds = {
  feverC: 37.3,
  raisedC: 37.0,
  warmthDifferenceC: 1.0,
  glucoseHighMgdl: 180,
  glucoseHighIllMgdl: 180,
  growthShare: 0,
};

/** What the rules need to know of the plan, for one wound. */
export interface Limits {
  /** Drainage the clinic expects, driest to wettest band. */
  expectedDrainage: readonly [Band, Band];
  /** Hours from one change to the next in the band now in use. */
  changeEveryHours: number;
  /** Amounts for which the plan says "call us" instead of giving a recipe. */
  callBands: readonly Band[];
  /** A dry gangrene that must stay dry. */
  keepDry: boolean;
  /** Findings the clinic already knows, as `question:code`. */
  known: readonly string[];
  /** Findings that count as a local sign besides the usual five, as `question:code`. */
  alsoSigns: readonly string[];
  /** Questions the plan switches on. */
  asks: readonly string[];
  /** Rules whose level the plan raises. */
  raise: Readonly<Record<string, Level>>;
  /** Day by which the clinic means to look at the plan again. */
  reviewBy?: LocalDay | undefined;
  thresholds: Thresholds;
}

/** A plain plan: everything at the table's own values. */
export const DEFAULT_LIMITS: Limits = {
  expectedDrainage: ['none', 'moderate'],
  changeEveryHours: 48,
  callBands: [],
  keepDry: false,
  known: [],
  alsoSigns: [],
  asks: [],
  raise: {},
  thresholds: DEFAULT_THRESHOLDS,
};
