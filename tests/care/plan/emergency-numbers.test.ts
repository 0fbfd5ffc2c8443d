import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dialable, emergencyNumbersFor, FALLBACK_NUMBERS, REGIONS, regionOf } from '../../../app/care/plan/emergency-numbers.ts';
import { readPlan } from '../../../app/care/plan/plan.ts';
import { demoContent, put } from './plans.ts';

describe('emergency numbers by region (from memory, as the national authorities publish them)', () => {
  // From memory: federal and national emergency services of each country.
  test.each([
    ['US', '911'],
    ['CA', '911'],
    ['MX', '911'],
    ['GB', '999'],
    ['AU', '000'],
    ['NZ', '111'],
    ['JP', '119'],
    ['BR', '192'],
    ['CH', '144'],
  ])('%s: %s', (region, number) => {
    expect(emergencyNumbersFor(region)).toEqual([number]);
  });

  test('all 27 states of the European Union share 112 (Directive (EU) 2018/1972, article 109; from memory)', () => {
    const states = 'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK'.split(' ');
    expect(states).toHaveLength(27);
    for (const state of states) expect(emergencyNumbersFor(state)).toEqual(['112']);
  });

  test('an unknown region gets both numbers of ITU-T E.161.1 (from memory)', () => {
    expect(FALLBACK_NUMBERS).toEqual(['112', '911']);
    for (const region of [undefined, '', 'XX', 'constructor', '__proto__', 'toString']) {
      expect(emergencyNumbersFor(region)).toEqual(FALLBACK_NUMBERS);
    }
  });

  test('the case of the region does not matter', () => {
    for (const region of REGIONS) expect(emergencyNumbersFor(region.toLowerCase())).toEqual(emergencyNumbersFor(region));
  });

  test('each region has one number that a plan could carry, and stands in the list once', () => {
    expect(new Set(REGIONS).size).toBe(REGIONS.length);
    for (const region of REGIONS) {
      const [number, ...more] = emergencyNumbersFor(region);
      expect(more).toEqual([]);
      expect(readPlan(put(demoContent(), ['clinic', 'emergencyNumber'], number ?? '')).ok).toBe(true);
    }
  });
});

describe('the region of a language tag (RFC 5646)', () => {
  test.each([
    ['es-MX', 'MX'],
    ['en_GB', 'GB'],
    ['zh-Hans-CN', 'CN'],
    ['sr-Latn-rs', 'RS'],
    ['de-CH-1996', 'CH'],
    ['en-US-u-ca-gregory', 'US'],
  ])('%s is in %s', (tag, region) => {
    expect(regionOf(tag)).toBe(region);
  });

  // Two letters after a single one belong to an extension: a calendar is not Canada.
  test.each(['en', '', 'es-419', 'zh-Hans', 'en-u-ca-buddhist', 'ar-u-nu-latn', 'x-US', 'de-x-AT'])('%j names no region', (tag) => {
    expect(regionOf(tag)).toBeUndefined();
  });
});

describe('a number as it is dialled (tel: links, RFC 3966)', () => {
  test.each([
    ['+1 312 555 0142', '+13125550142'],
    ['312-555-0142', '3125550142'],
    ['1 (312) 555.0142', '13125550142'],
    ['112', '112'],
    ['0 30 555 01 42', '0305550142'],
  ])('%s → %s', (written, dialled) => {
    expect(dialable(written)).toBe(dialled);
  });

  test('the trunk prefix in brackets behind a country code is not dialled (common notation; ITU-T E.123 advises against it)', () => {
    expect(dialable('+44 (0)20 7946 0018')).toBe('+442079460018');
    expect(dialable('+49 (0) 30 5550142')).toBe('+49305550142');
  });

  test('a nought in brackets without a country code is dialled', () => {
    expect(dialable('0(0)5550142')).toBe('005550142');
  });

  test('whatever phone a plan may hold, only digits and a leading plus remain', () => {
    const sign = fc.constantFrom(...'0123456789 ().-+');
    fc.assert(
      fc.property(fc.array(sign, { minLength: 3, maxLength: 30 }), (signs) => {
        const phone = signs.join('');
        fc.pre(readPlan(put(demoContent(), ['clinic', 'phone'], phone)).ok);
        expect(dialable(phone)).toMatch(/^\+?\d+$/);
        expect(dialable(phone).startsWith('+')).toBe(phone.startsWith('+'));
      }),
    );
  });
});
