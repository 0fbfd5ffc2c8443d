import { emergencyNumbersFor, regionOf } from '../care/plan/emergency-numbers.ts';
import type { NotebookState } from '../store/notebook.ts';

/** The region of the phone's language. */
export function wishedRegion(): string | undefined {
  for (const tag of navigator.languages ?? []) {
    const region = regionOf(tag);
    if (region) return region;
  }
  return undefined;
}

/** The region to find an emergency number for: chosen, else that of the phone's language. */
export const regionInUse = (state: NotebookState): string | undefined => state.settings.region ?? wishedRegion();

/** The plan's emergency number, else those of the region. */
export function emergencyNumbers(state: NotebookState): readonly string[] {
  const own = state.book?.plan.clinic.emergencyNumber;
  return own ? [own] : emergencyNumbersFor(regionInUse(state));
}

/** The one number to judge and call with. */
export const emergencyNumber = (state: NotebookState): string => emergencyNumbers(state)[0] ?? '112';
