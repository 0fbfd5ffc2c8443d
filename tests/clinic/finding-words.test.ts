import { beforeAll, describe, expect, it } from 'vitest';
import { FINDING_IDS, FINDING_RULES, type Finding } from '../../app/care/plan/findings.ts';
import { findingText } from '../../app/clinic/finding-words.ts';
import { sourceNames } from '../../app/clinic/source.tsx';
import { AREAS, loadAreas, words } from '../../app/words/i18n.ts';
import { read } from '../house/source.ts';
import { textsOf } from '../words/locale-files.ts';

beforeAll(async () => {
  await words.changeLanguage('en');
  await loadAreas(AREAS);
});

const english = textsOf('en', ['clinic']);
const ofFinding = (id: string) => [...english.keys()].filter((key) => key.startsWith(`clinic:finding.${id}.`));

describe('words of the findings', () => {
  it.each(FINDING_IDS)('%s has words', (id) => {
    expect(ofFinding(id).length).toBeGreaterThan(0);
  });

  it('there are words for no finding that is gone', () => {
    const ids = new Set([...english.keys()].filter((k) => k.startsWith('clinic:finding.')).map((k) => k.split('.')[1]));
    expect([...ids].filter((id) => !(FINDING_IDS as readonly string[]).includes(id as string))).toEqual([]);
  });

  it('every variant in the table has words', () => {
    const table = read('app/care/plan/findings.ts') + read('app/care/plan/plan-findings.ts');
    const variants = new Set([...table.matchAll(/variant: '(\w+)'/g)].map((m) => m[1] as string));
    expect(variants.size).toBeGreaterThan(5);
    const said = new Set([...english.keys()].filter((k) => k.startsWith('clinic:finding.')).map((k) => k.split('.').at(-1) as string));
    expect([...variants].filter((v) => !said.has(v))).toEqual([]);
  });

  it('puts names, lengths and dates in for codes, and leaves no placeholder open', () => {
    const finding: Finding = {
      id: 'pad-too-small',
      gravity: 'tells',
      source: ['EV-LCD-05'],
      reason: 'finding.pad-too-small',
      params: { widthMm: 50, heightMm: 50, leastWidthMm: 66.8, leastHeightMm: 72.8 },
    };
    expect(findingText(finding)).toContain('5 cm × 5 cm');
    expect(findingText(finding)).toContain('6.7 cm × 7.3 cm');
    const looser: Finding = {
      id: 'loosens-escalation',
      gravity: 'stops',
      variant: 'threshold',
      source: ['cautious'],
      reason: '',
      params: { field: 'escalation.thresholds.feverC', value: 39, most: 38 },
    };
    expect(findingText(looser)).toContain(english.get('clinic:threshold.feverC') as string);
    expect(findingText(looser)).not.toContain('{{');
    const moist: Finding = {
      id: 'moist-on-keep-dry',
      gravity: 'stops',
      source: ['EV-PRA-01'],
      reason: '',
      params: { items: 'family:foam,skinProtection:zincPaste,step:clean' },
    };
    expect(findingText(moist)).toContain('zinc paste, the step “');
    expect(findingText(moist)).not.toContain('{{');
    const known: Finding = { ...looser, variant: 'known', params: { field: 'known', value: 'drainageColour:green' } };
    expect(findingText(known)).toContain('green fluid');
  });
});

describe('sources', () => {
  it('every row of every finding has a publication or is common practice', () => {
    const practice = english.get('clinic:source.practice') as string;
    const rows = FINDING_RULES.flatMap((r) => [...r.source] as string[]);
    // Rows of practice and of our own caution have no publication; all others must.
    const published = rows.filter((row) => !row.startsWith('EV-PRA-') && row.startsWith('EV-'));
    expect(published.length).toBeGreaterThan(10);
    expect(published.filter((row) => sourceNames([row]).includes(practice))).toEqual([]);
    expect(sourceNames(['EV-PRA-06', 'EV-DRS-09'])).toEqual(['AHCPR 1994', practice]);
  });
});
