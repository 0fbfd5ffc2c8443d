import { areaOf } from '../escalation/size.ts';
import type { MeasureMethod } from '../log/records.ts';
import { type Entry, standing } from '../log/timeline.ts';
import type { Wound } from '../plan/plan.ts';
import { instantOf, type LocalDay } from '../schedule/day.ts';
import { ellipsePerimeterMm } from './area.ts';

/** One measurement of a wound, or the size that its plan begins with. Lengths in mm, areas in mm². */
export interface WoundSize {
  /** The id by which other records know the measurement; undefined for the size in the plan. */
  id: string | undefined;
  /** When it was entered, ms; the size in the plan stands at midnight UTC of its day. */
  at: number;
  day: LocalDay;
  /** Who or what measured. The size in the plan counts as the clinic's. */
  method: MeasureMethod;
  /** Whether the area was given as such or is that of an ellipse with the two diameters. */
  way: 'area' | 'ellipse';
  areaMm2: number | undefined;
  lengthMm: number | undefined;
  widthMm: number | undefined;
  depthMm: number | undefined;
  /** Length of the edge: as traced, else of the ellipse; 0 where the area is 0. */
  perimeterMm: number | undefined;
  perimeterTraced: boolean;
  photo: string | undefined;
}

/** A size whose area is known. */
export type AreaSize = WoundSize & { areaMm2: number };

/** Smaller than anything a ruler or a photo can show: taken as nothing left (our judgement). */
export const SEEN_LEAST_MM2 = 0.01;

type Measured = Partial<Pick<WoundSize, 'lengthMm' | 'widthMm' | 'depthMm' | 'areaMm2' | 'perimeterMm' | 'photo'>>;

function sizeFrom(m: Measured, { id, at, day, method }: Pick<WoundSize, 'id' | 'at' | 'day' | 'method'>): WoundSize {
  const { lengthMm, widthMm, depthMm, photo } = m;
  const areaMm2 = areaOf({ at, day, lengthMm, widthMm, areaMm2: m.areaMm2 });
  const ofEllipse = lengthMm !== undefined && widthMm !== undefined ? ellipsePerimeterMm(lengthMm, widthMm) : undefined;
  const perimeterMm = areaMm2 === 0 ? 0 : (m.perimeterMm ?? ofEllipse);
  return {
    id,
    at,
    day,
    method,
    way: m.areaMm2 === undefined ? 'ellipse' : 'area',
    areaMm2,
    lengthMm,
    widthMm,
    depthMm,
    perimeterMm,
    perimeterTraced: m.perimeterMm !== undefined,
    photo,
  };
}

/**
 * Every size of a wound up to now, oldest first: the one its plan begins with,
 * and each measurement once, as corrected last and not withdrawn.
 *
 * Time and order are those that the escalation rules go by. What is dated after
 * now by a wrong clock is left out, as it is there.
 * @param now ms.
 */
export function sizesOf(entries: readonly Entry[], wound: Pick<Wound, 'id' | 'baseline'>, now: number): WoundSize[] {
  const { baseline } = wound;
  const planned = baseline
    ? [sizeFrom(baseline, { id: undefined, at: instantOf(baseline.day, 0, 'UTC'), day: baseline.day, method: 'clinic' })]
    : [];
  const measured = standing(entries, 'measurement')
    .filter((e) => e.now.wound === wound.id)
    .map(({ first, now: m }) => sizeFrom(m, { id: first.id, at: Date.parse(first.at), day: first.day, method: m.method }));
  return [...planned, ...measured].filter((s) => s.at <= now).sort((a, b) => a.at - b.at);
}

/** The sizes whose area is known, in the same order. */
export function withArea(sizes: readonly WoundSize[]): AreaSize[] {
  return sizes.filter((s): s is AreaSize => s.areaMm2 !== undefined);
}

/** Whether two sizes came about in different ways, so that part of their difference may be the measuring [EV-HEA-13, Rogers 2010]. */
export function isMixed(a: WoundSize, b: WoundSize): boolean {
  return a.method !== b.method || a.way !== b.way;
}
