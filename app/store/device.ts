/** What the platform must supply; tests pass a fake. */
export interface Device {
  /** The clock, ms since 1970. */
  now(): number;
  /** The IANA time zone the phone is in. */
  zone(): string;
  /** A new random id of `[A-Za-z0-9_-]`. */
  newId(): string;
}

/** The phone itself. */
export const realDevice: Device = {
  now: () => Date.now(),
  zone: () => Intl.DateTimeFormat().resolvedOptions().timeZone,
  newId: () => crypto.randomUUID(),
};
