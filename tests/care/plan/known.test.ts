import { describe, expect, test } from 'vitest';
import { QUESTIONS } from '../../../app/care/check/questions.ts';
import { canGoQuiet } from '../../../app/care/plan/known.ts';

describe('what can be marked as known', () => {
  test('is what the specification names, and nothing that stays loud', () => {
    // Of the specification: a usual odour, grey staining, a baseline swelling.
    for (const finding of ['odour:usual', 'odour:newOrStronger', 'drainageColour:brownOrGrey', 'swelling:new', 'footColour:darkerPatch'])
      expect([finding, canGoQuiet(finding)]).toEqual([finding, true]);
    for (const finding of [
      'unwell:faint',
      'unwell:vomiting',
      'footColour:newBlack',
      'pain:severe',
      'redness:streaks',
      'woundBed:boneOrTendon',
      'bleeding:willNotStop',
    ])
      expect([finding, canGoQuiet(finding)]).toEqual([finding, false]);
  });

  test('is no amount of drainage: the expected range tells that', () => {
    const codes = QUESTIONS.find((q) => q.id === 'drainageAmount')?.codes ?? [];
    expect(codes.length).toBeGreaterThan(0);
    for (const code of codes) expect(canGoQuiet(`drainageAmount:${code}`)).toBe(false);
  });
});
