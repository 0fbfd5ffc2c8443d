import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fileName } from '../../app/exchange/file-name.ts';

describe('the name of a file', () => {
  test('says what it is, for whom and whose, so that two files are told apart in a list', () => {
    expect(fileName('log-clinic', 'Nela', '2031-03-04', 'txt')).toBe('tendbook-log-clinic-nela-2031-03-04.txt');
    expect(fileName('log-phone', 'Nela', '2031-03-04', 'txt')).toBe('tendbook-log-phone-nela-2031-03-04.txt');
    expect(fileName('plan', 'María José Ñ.', 2, 'json')).toBe('tendbook-plan-maría-josé-ñ-2.json');
    expect(fileName('log-clinic', 'ليلى', '2031-03-04', 'txt')).toBe('tendbook-log-clinic-ليلى-2031-03-04.txt');
  });

  test('has no name where the file names no one, or the name has no letter', () => {
    expect(fileName('log-record', undefined, '2031-03-04', 'json')).toBe('tendbook-log-record-2031-03-04.json');
    expect(fileName('plan', '../..', 1, 'json')).toBe('tendbook-plan-1.json');
  });

  test('is short and safe whatever the person is called', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (name) => {
        const made = fileName('plan', name, 1, 'json');
        expect(made).toMatch(/^tendbook-plan(-[\p{L}\p{M}\p{N}-]+)?-1\.json$/u);
        expect([...made].length).toBeLessThanOrEqual(42);
      }),
    );
  });
});
