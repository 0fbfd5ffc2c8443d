import { describe, expect, test } from 'vitest';
import type { Plan } from '../../app/care/plan/plan.ts';
import { pack } from '../../app/exchange/bytes.ts';
import { partsOf } from '../../app/exchange/code-sequence.ts';
import { fold, signedDigits, signPlan } from '../../app/exchange/envelope.ts';
import { planLink } from '../../app/exchange/plan-file.ts';
import { planToJson } from '../../app/exchange/plan-json.ts';
import { codesFor, drawCode, VERSION_MOST } from '../../app/exchange/qr-write.ts';
import { demoPlan } from '../care/plan/plans.ts';
import { ADDRESS, clinic, largestPlan, longPlan, smallPlan, typicalPlan, words } from './make.ts';

/** The version of a code, or `none` where the text does not fit any. */
const versionOf = (text: string): number | 'none' => {
  try {
    return drawCode(text).version;
  } catch {
    return 'none';
  }
};

async function measure(plan: Plan): Promise<Record<string, number | string>> {
  const { keys } = await clinic();
  const jws = await signPlan(plan, keys);
  const codes = codesFor(jws, ADDRESS);
  return {
    json: planToJson(plan).length,
    deflated: pack(planToJson(plan)).length,
    withDictionary: (fold(jws)?.length ?? 0) - 129,
    jws: jws.length,
    codes: codes?.length ?? 'file',
    version: codes ? Math.max(...codes.map((c) => c.version)) : '–',
    asBytes: versionOf(planLink(jws, ADDRESS)),
  };
}

describe('sizes of signed plans as QR codes at level M', () => {
  test('a typical three-recipe plan takes one code of version 24 or below; the largest travels as a file', async () => {
    const plans = {
      small: smallPlan(),
      demo: demoPlan(),
      typical: typicalPlan(),
      'one wound, every step noted': longPlan(1),
      'three wounds, every step noted': longPlan(3),
      largest: largestPlan(),
    };
    const rows: Record<string, Record<string, number | string>> = {};
    for (const [name, plan] of Object.entries(plans)) rows[name] = await measure(plan);
    console.table(rows);
    expect(rows.typical).toMatchObject({ codes: 1 });
    for (const { codes, version } of Object.values(rows)) {
      expect(codes === 'file' || codes === 1 || Number(codes) > 1).toBe(true);
      if (version !== '–') expect(Number(version)).toBeLessThanOrEqual(VERSION_MOST);
    }
    expect(rows.small?.version).toBeLessThan(rows.typical?.version as number);
    expect(rows['one wound, every step noted']?.codes).toBeGreaterThan(1);
    expect(rows.largest?.codes).toBe('file');
    expect(rows.largest?.jws).toBeLessThan(400_000);
  });

  test('digits need a smaller code than the same plan in bytes', async () => {
    const { keys } = await clinic();
    const jws = await signPlan(typicalPlan(), keys);
    const [code] = codesFor(jws, ADDRESS) ?? [];
    expect(code?.version).toBeLessThan(drawCode(planLink(jws, ADDRESS)).version);
  });

  test('a single code is used up to the last digit that fits version 24', async () => {
    const head = planLink('s', ADDRESS);
    const fits = (digits: number): boolean => drawCode(head + '1'.repeat(digits)).version <= VERSION_MOST;
    const most = Array.from({ length: 250 }, (_, i) => 1_950 + i).findLast(fits) as number;
    expect([fits(most), fits(most + 1)]).toEqual([true, false]);
    const { keys } = await clinic();
    const say = words(3);
    const seen = new Set<number>();
    for (let letters = 8; letters <= 400; letters += 8) {
      const jws = await signPlan({ ...typicalPlan(), greeting: say(letters) }, keys);
      const codes = codesFor(jws, ADDRESS) ?? [];
      seen.add(codes.length);
      const digits = (signedDigits(jws) as string).length - 1;
      // The capacity is counted in whole threes of digits, so one or two may be given away.
      expect([letters, codes.length]).toEqual([letters, digits <= most - (most % 3) ? 1 : 2]);
      for (const c of codes) expect(c.version).toBeLessThanOrEqual(VERSION_MOST);
    }
    expect([...seen].sort()).toEqual([1, 2]);
  });

  test('a longer address still keeps every code within version 24', async () => {
    const { keys } = await clinic();
    const jws = await signPlan(longPlan(2), keys);
    for (const address of ['https://t.example/', ADDRESS, `https://${'very-long-name.'.repeat(10)}example/`]) {
      const codes = codesFor(jws, address) ?? [];
      expect(codes.length).toBeGreaterThan(1);
      for (const c of codes) expect(c.version).toBeLessThanOrEqual(VERSION_MOST);
      const expected = partsOf(fold(jws) as Uint8Array, 1_500)?.[0]?.slice(5, 15);
      expect(codes.every((c) => c.text.includes(expected as string))).toBe(true);
    }
  });
});
