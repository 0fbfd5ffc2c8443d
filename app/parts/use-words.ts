import { useEffect, useState } from 'preact/hooks';
import { type Area, hasArea, loadAreas } from '../words/i18n.ts';

/** Whether the words of some areas are there; asks for those that are not. */
export function useWords(areas: readonly Area[]): boolean {
  const there = areas.every(hasArea);
  const [, again] = useState(0);
  useEffect(() => {
    if (!there) void loadAreas(areas).then(() => again((n) => n + 1));
  }, [there]);
  return there;
}
