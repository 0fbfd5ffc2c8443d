/**
 * Emergency numbers by region (ISO 3166-1 alpha-2), for when the plan has
 * none. All from memory, as the national authorities publish them; the app
 * always shows them with "or your local emergency number".
 */
const NUMBERS: Readonly<Record<string, string>> = {
  AU: '000',
  BR: '192',
  CA: '911',
  CH: '144',
  CN: '120',
  GB: '999',
  IL: '101',
  IN: '112',
  JP: '119',
  KR: '119',
  MX: '911',
  NZ: '111',
  PH: '911',
  RU: '112',
  SA: '997',
  SG: '995',
  TH: '1669',
  TR: '112',
  UA: '112',
  US: '911',
  VN: '115',
  ZA: '112',
};

/** The 27 states of the European Union share 112 (Directive (EU) 2018/1972, article 109; from memory). */
const EUROPEAN_UNION = 'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK'.split(' ');

/** The two numbers that ITU-T E.161.1 recommends (from memory). */
export const FALLBACK_NUMBERS = ['112', '911'] as const;

/**
 * The emergency number of a region.
 * @param region ISO 3166-1 alpha-2, any case; undefined when unknown.
 * @returns one number, or both fallbacks when the region is not in the table.
 */
export function emergencyNumbersFor(region: string | undefined): readonly string[] {
  const key = region?.toUpperCase() ?? '';
  if (EUROPEAN_UNION.includes(key)) return ['112'];
  return Object.hasOwn(NUMBERS, key) ? [NUMBERS[key] as string] : FALLBACK_NUMBERS;
}

/** Regions that have a number of their own in the table. */
export const REGIONS: readonly string[] = [...Object.keys(NUMBERS), ...EUROPEAN_UNION].sort();

/**
 * The region of a language tag such as `es-MX`, if it names one. What follows
 * a single letter is an extension (RFC 5646, 2.2.6): the `ca` of
 * `en-u-ca-buddhist` is a calendar, not Canada.
 */
export function regionOf(tag: string): string | undefined {
  const main = tag.split(/(?:^|[-_])[A-Za-z0-9](?=[-_])/)[0] ?? '';
  return /[-_]([A-Za-z]{2})(?:$|[-_])/.exec(main)?.[1]?.toUpperCase();
}

/**
 * A phone number as it may stand in a `tel:` link: digits, with a leading
 * plus. A nought in brackets behind a country code, as in `+44 (0)20 …`, is
 * dialled inside the country only and is left out.
 */
export function dialable(phone: string): string {
  const international = phone.startsWith('+') ? phone.replace(/\(0\)/, '') : phone;
  return international.replace(/(?!^\+)[^0-9]/g, '');
}
