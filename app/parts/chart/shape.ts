import type { LocalDay } from '../../care/schedule/day.ts';
import type { ChartPoint, Crowd } from './points.ts';
import type { DayStyle, DayTick, WidthOf } from './ticks.ts';

/** What a chart takes, and what its layout gives. */

/** A way to draw a series, told apart by shape and dash and never by colour. */
export const LOOKS = ['disc', 'ring', 'diamond', 'square'] as const;
export type Look = (typeof LOOKS)[number];

/** Points that may be joined by a line. What was measured in another way is another series. */
export interface ChartSeries {
  key: string;
  look: Look;
  /** What tells it from the others; one alone may go without. */
  name?: string | undefined;
  points: readonly ChartPoint[];
}

/** A range that was expected over some days, both included. */
export interface ChartBand {
  from: LocalDay;
  to: LocalDay;
  low: number;
  high: number;
  /** The range in words. */
  said: string;
}

export interface ChartLimit {
  value: number;
  name: string;
}

/** What a chart shows. */
export interface ChartData {
  /** First and last day of the axis. Points outside are left out. */
  from: LocalDay;
  to: LocalDay;
  series: readonly ChartSeries[];
  /** A pause of more days than this breaks a line. */
  gapDays: number;
  /** For values that are steps and no numbers: what step 0, 1, 2 … is called, lowest first. */
  rows?: readonly string[] | undefined;
  bands?: readonly ChartBand[] | undefined;
  bandName?: string | undefined;
  limits?: readonly ChartLimit[] | undefined;
  /** Written over the axis of values. */
  unit?: string | undefined;
  /** The axis of values begins at zero, so that half as high is half as much. */
  fromZero?: boolean | undefined;
}

/** The room there is, and how to write in it. */
export interface ChartFrame {
  widthPx: number;
  /** The size of the page's text. */
  emPx: number;
  sayDay: (day: LocalDay, style: DayStyle) => string;
  sayValue: (value: number) => string;
  widthOf: WidthOf;
}

/** A place on the picture. */
export interface Spot {
  x: number;
  y: number;
}

/** A word on the chart; it begins at `x`, with its middle at `y`. */
export interface ChartLabel extends Spot {
  text: string;
}

/** The name of something drawn, beside it. */
export interface ChartName extends ChartLabel {
  kind: KeyItem['kind'];
}

/** A rectangle in px, `x` and `y` its corner at the beginning of the line and the top. */
export interface Box extends Spot {
  width: number;
  height: number;
}

export interface SeriesLayout {
  key: string;
  look: Look;
  lines: Spot[][];
  marks: Spot[];
  bars: { x: number; top: number; bottom: number }[];
}

/** What stands under the chart because it found no room in it. */
export type KeyItem = { kind: 'series'; look: Look; text: string } | { kind: 'band' | 'limit'; text: string };

/**
 * A chart in px. `x` counts in reading direction from the side where the axis
 * of values stands, so a page from right to left mirrors it as a whole.
 */
export interface ChartLayout {
  width: number;
  height: number;
  plot: Box;
  /** Sizes of the writing on the axes and of the names. */
  tickPx: number;
  namePx: number;
  markPx: number;
  /** Values are steps: they are drawn on their rows, and a thin line only tells their order. */
  isSteps: boolean;
  /** Width of a mark where steps stand too close for whole ones; 0 where they do not. */
  slimPx: number;
  yTicks: (Spot & { text: string })[];
  /** The axis of values is written within the plot because its words are long. */
  yInside: boolean;
  /** How far above its line such a word stands. */
  overLine: number;
  xTicks: DayTick[];
  unit: ChartLabel | undefined;
  bands: Box[];
  limits: { y: number }[];
  series: SeriesLayout[];
  /** Where something was asked and not answered, on the line of the axis. */
  missing: Spot[];
  labels: ChartName[];
  under: KeyItem[];
  crowd: Crowd;
  /** Days that one bar stands for; 0 where there are none. */
  barDays: number;
  /** Whether a line was broken at a pause. */
  broken: boolean;
}
