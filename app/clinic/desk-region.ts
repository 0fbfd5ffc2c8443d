import { regionOf } from '../care/plan/emergency-numbers.ts';

/** The region of the desk's own language; the phone asks its own. */
export const deskRegion = (): string | undefined => (navigator.languages ?? []).map(regionOf).find((r) => r !== undefined);
