import { standing } from '../log/timeline.ts';
import type { LocalDay } from '../schedule/day.ts';
import { isIn, type Scope } from './scope.ts';

export interface PhotoOf {
  /** The id of its bytes in the photo store. */
  photo: string;
  day: LocalDay;
  widthPx: number;
  heightPx: number;
}

export interface PhotosPart {
  /** Photos taken in the period. */
  count: number;
  /** To be shown side by side. With one photo in the period the first is the last one taken before it, if there is one. */
  first: PhotoOf | undefined;
  latest: PhotoOf | undefined;
}

export function photosPart(scope: Scope, wound: string): PhotosPart {
  const all = standing(scope.entries, 'photo').filter((e) => e.now.wound === wound);
  const inIt = all.filter((e) => isIn(scope.period, e.first.day));
  const before = all.filter((e) => e.first.day < scope.period.from).at(-1);
  const shown = (e: (typeof all)[number] | undefined): PhotoOf | undefined =>
    e && { photo: e.now.photo, day: e.first.day, widthPx: e.now.widthPx, heightPx: e.now.heightPx };
  const latest = inIt.at(-1);
  return { count: inIt.length, first: shown(inIt.length > 1 ? inIt[0] : latest && before), latest: shown(latest) };
}
