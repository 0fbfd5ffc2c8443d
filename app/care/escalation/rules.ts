import type { Facts } from './facts.ts';
import type { Level } from './levels.ts';
import { GLUCOSE_LOW_MGDL } from './limits.ts';
import type { RULE_LEVELS, TableRuleId } from './rule-levels.ts';

/** What a rule says when it fires. */
export interface Firing {
  /** Set where a rule has more than one level; otherwise the rule's own level counts. */
  level?: Level;
  /** What it rests on, as `question:code`; empty when it rests on the clock or the past. */
  findings: readonly string[];
  /** Which wording of the reason fits, where a rule has more than one. */
  variant?: string;
  /** Numbers and names for the reason. */
  params?: Readonly<Record<string, string | number>>;
}

export interface Rule<Id extends TableRuleId = TableRuleId> {
  readonly id: Id;
  /** The mildest level the rule can give. */
  readonly level: (typeof RULE_LEVELS)[Id];
  /** Rows of the evidence table, or `practice` (common practice of the trade) or `cautious` (no source; the careful choice). */
  readonly source: readonly string[];
  /** Undefined while the rule is silent. */
  readonly when: (f: Facts) => Firing | undefined;
}

/** A row of the table: an id with the level that belongs to it. */
type Row = { [Id in TableRuleId]: Rule<Id> }[TableRuleId];

const fires = (when: boolean, findings: readonly string[], more: Omit<Firing, 'findings'> = {}): Firing | undefined =>
  when ? { findings, ...more } : undefined;
const given = (findings: readonly string[], more: Omit<Firing, 'findings'> = {}): Firing | undefined =>
  fires(findings.length > 0, findings, more);

/** The rule table. Order is the order in which reasons of one level are shown. */
export const RULES = [
  // — the whole person —
  { id: 'sepsis-sign', level: 'emergency', source: ['EV-INF-15', 'EV-INF-16', 'EV-INF-10'], when: (f) => given(f.grave) },
  {
    id: 'keeps-vomiting',
    level: 'callNow',
    source: ['EV-INF-15', 'EV-INF-16', 'EV-INF-06'],
    when: (f) => fires(f.has('unwell', 'vomiting'), ['unwell:vomiting']),
  },
  { id: 'fever', level: 'callNow', source: ['EV-INF-10'], when: (f) => fires(f.fever, ['temperature:fever']) },
  {
    id: 'fever-with-sign',
    level: 'emergency',
    source: ['EV-INF-10'],
    when: (f) =>
      fires(f.fever && (f.signs.length > 0 || f.newOdour || f.has('woundBed', 'newBlack') || f.deep.length > 0), ['temperature:fever']),
  },
  {
    id: 'raised-temperature',
    level: 'callToday',
    source: ['EV-FEV-01', 'EV-FEV-02'],
    when: (f) => fires(f.raised, ['temperature:raised']),
  },
  {
    id: 'low-temperature',
    level: 'callNow',
    source: ['EV-INF-03', 'EV-INF-04', 'EV-INF-05'],
    when: (f) => fires(f.lowTwice, ['temperature:low']),
  },
  {
    id: 'very-low-temperature',
    level: 'emergency',
    source: ['EV-INF-03', 'EV-INF-04', 'EV-INF-05'],
    when: (f) => fires(f.veryLow, ['temperature:veryLow']),
  },
  {
    id: 'feverish-unsure',
    level: 'callToday',
    source: ['cautious'],
    when: (f) => fires(f.feels('unsure') || (f.lenient && f.feels('yes')), ['temperature:unsure']),
  },

  // — the foot —
  {
    id: 'foot-cold-pale',
    level: 'emergency',
    source: ['EV-INF-13', 'EV-INF-14'],
    when: (f) => fires(f.is('footColour', 'paleOrBlueAndCold'), [f.found('footColour')]),
  },
  {
    id: 'foot-pale',
    level: 'callNow',
    source: ['EV-INF-13', 'EV-INF-14'],
    when: (f) => fires(f.is('footColour', 'paleOrBlue'), [f.found('footColour')]),
  },
  {
    id: 'foot-pale-severe-pain',
    level: 'emergency',
    source: ['EV-INF-13', 'EV-INF-14'],
    when: (f) => fires(f.is('footColour', 'paleOrBlue') && f.is('pain', 'severe'), [f.found('footColour'), f.found('pain')]),
  },
  // Ours, beside the table: a pale foot is asked as graver than new black tissue, so with a sign of
  // infection it must not give less than `black-with-sign` does (property 1: a worse answer never
  // lowers the level). Poor circulation worsens every grade of infection [EV-INF-06, IDSA 2012].
  {
    id: 'foot-pale-with-sign',
    level: 'emergency',
    source: ['EV-INF-06', 'EV-INF-10', 'cautious'],
    when: (f) => fires(f.is('footColour', 'paleOrBlue') && (f.signs.length > 0 || f.newOdour), [f.found('footColour')]),
  },
  { id: 'new-black', level: 'callNow', source: ['EV-INF-10'], when: (f) => given(f.newBlack) },
  {
    id: 'black-with-sign',
    level: 'emergency',
    source: ['EV-INF-10'],
    when: (f) => fires(f.newBlack.length > 0 && (f.signs.length > 0 || f.newOdour), f.newBlack),
  },
  {
    id: 'darker-patch',
    level: 'callToday',
    source: ['EV-INF-11'],
    when: (f) => fires(f.is('footColour', 'darkerPatch'), [f.found('footColour')]),
  },

  // — infection —
  { id: 'redness-fast', level: 'emergency', source: ['EV-INF-10'], when: (f) => fires(f.is('redness', 'fast'), [f.found('redness')]) },
  {
    id: 'redness-streaks',
    level: 'callNow',
    source: ['EV-INF-03', 'EV-INF-04', 'EV-INF-05'],
    when: (f) => fires(f.is('redness', 'streaks'), [f.found('redness')]),
  },
  {
    id: 'redness-spreading',
    level: 'callNow',
    source: ['EV-INF-03', 'EV-INF-04', 'EV-INF-05'],
    when: (f) => fires(f.is('redness', 'spreading'), [f.found('redness')]),
  },
  {
    id: 'deep',
    level: 'callNow',
    source: ['EV-INF-03', 'EV-INF-04', 'EV-INF-05', 'EV-INF-10'],
    when: (f) => given(f.deep),
  },
  {
    id: 'two-signs',
    level: 'callNow',
    source: ['EV-INF-01'],
    when: (f) => fires(f.signs.length >= 2, f.signs, { params: { count: f.signs.length } }),
  },
  {
    id: 'one-sign',
    level: 'callToday',
    source: ['EV-INF-01', 'EV-INF-11'],
    when: (f) => fires((f.lenient ? f.signs.length >= 1 : f.signs.length === 1) && !f.oneWarmReading, f.signs),
  },
  {
    id: 'odour-new',
    level: 'callToday',
    source: ['EV-INF-01'],
    when: (f) => fires(f.newOdour, ['odour:newOrStronger'], f.signs.length > 0 ? { level: 'callNow' } : {}),
  },
  { id: 'pain-severe', level: 'callNow', source: ['EV-INF-11'], when: (f) => fires(f.is('pain', 'severe'), [f.found('pain')]) },
  {
    id: 'hot-swollen',
    level: 'callNow',
    source: ['EV-TMP-12'],
    when: (f) => fires(f.is('warmth', 'hotAndSwollen'), [f.found('warmth')]),
  },
  {
    id: 'warm-two-days',
    level: 'callToday',
    source: ['EV-TMP-04'],
    when: (f) => fires(f.warmTwoDays.length > 0, ['warmth:measured'], { params: { places: f.warmTwoDays.join(', ') } }),
  },
  {
    id: 'warm-once',
    level: 'mention',
    source: ['EV-TMP-06'],
    when: (f) => fires(f.warmOnlyOnce, ['warmth:measured'], { params: { places: f.warmPlaces.join(', ') } }),
  },

  // — bleeding and drainage —
  {
    id: 'bleeding-wont-stop',
    level: 'emergency',
    source: ['practice'],
    when: (f) => fires(f.is('bleeding', 'willNotStop'), [f.found('bleeding')]),
  },
  {
    id: 'bleeding-soaked',
    level: 'callToday',
    source: ['practice'],
    when: (f) =>
      f.is('bleeding', 'soakedThenStopped')
        ? { level: 'callNow', findings: [f.found('bleeding')] }
        : fires(f.is('drainageColour', 'red'), [f.found('drainageColour')], { variant: 'colour' }),
  },
  {
    id: 'drainage-above-plan',
    level: 'callToday',
    source: ['EV-EXU-09'],
    when: (f) => fires(f.aboveExpected, [f.found('drainageAmount')]),
  },
  // Ours: the plan has no recipe for this amount and says to call instead.
  {
    id: 'plan-says-call',
    level: 'callToday',
    source: ['practice'],
    when: (f) => fires(f.inCallBand, [f.found('drainageAmount')]),
  },
  {
    id: 'drainage-rising',
    level: 'callToday',
    source: ['EV-EXU-09'],
    when: (f) => fires(f.risingThrice, [f.found('drainageAmount')]),
  },
  {
    id: 'drainage-below-plan',
    level: 'mention',
    source: ['EV-PRA-03', 'EV-PRA-04'],
    when: (f) => fires(f.belowExpectedTwice, [f.found('drainageAmount')]),
  },
  {
    id: 'overwhelmed',
    level: 'callToday',
    source: ['EV-EXU-02', 'EV-EXU-05'],
    when: (f) => fires(f.overwhelmedTwice, [f.found('dressing')]),
  },
  {
    id: 'soggy-edge',
    level: 'mention',
    source: ['EV-PRA-03', 'EV-PRA-04'],
    when: (f) => fires(f.soggyNow, [f.found('edge')], f.soggyTwice ? { level: 'callToday', variant: 'twice' } : {}),
  },
  { id: 'new-sore', level: 'callToday', source: ['EV-INF-11'], when: (f) => fires(f.is('edge', 'newBlisterOrSore'), [f.found('edge')]) },

  // — off-loading and glucose —
  {
    id: 'offloading-broken',
    level: 'callToday',
    source: ['practice'],
    when: (f) => fires(f.is('offloading', 'brokenOrHurts'), [f.found('offloading')]),
  },
  { id: 'offloading-off', level: 'mention', source: ['practice'], when: (f) => fires(f.hardlyTwoDays, [f.found('offloading')]) },
  {
    id: 'glucose-very-low',
    level: 'callNow',
    source: ['EV-INF-19'],
    when: (f) =>
      fires(
        (f.glucoseMgdl ?? Number.POSITIVE_INFINITY) < 54,
        ['glucose:veryLow'],
        f.has('unwell', 'confusedOrDrowsy') || f.has('unwell', 'faint') ? { level: 'emergency' } : {},
      ),
  },
  {
    id: 'glucose-low',
    level: 'mention',
    source: ['EV-INF-19'],
    when: (f) => fires((f.glucoseMgdl ?? Number.POSITIVE_INFINITY) < GLUCOSE_LOW_MGDL, ['glucose:low']),
  },
  {
    id: 'glucose-high-ill',
    level: 'callNow',
    source: ['EV-INF-21'],
    when: (f) => fires((f.glucoseMgdl ?? 0) >= f.limits.thresholds.glucoseHighIllMgdl && f.ill, ['glucose:high']),
  },
  {
    id: 'glucose-high',
    level: 'callToday',
    source: ['practice'],
    when: (f) => fires((f.glucoseMgdl ?? 0) > f.limits.thresholds.glucoseHighMgdl, ['glucose:high']),
  },

  // — doubt, dry gangrene, time —
  {
    id: 'not-sure',
    level: 'callToday',
    source: ['cautious'],
    when: (f) =>
      given(
        f.unsure.map((id) => `${id}:unsure`),
        { params: { questions: f.unsure.join(',') } },
      ),
  },
  { id: 'keep-dry-breached', level: 'callNow', source: ['EV-PRA-01', 'EV-INF-10'], when: (f) => given(f.dryBreached) },
  { id: 'change-overdue', level: 'callToday', source: ['practice'], when: (f) => fires(f.changeOverdue, []) },
  {
    id: 'size-stalled',
    level: 'mention',
    source: ['EV-HEA-02', 'EV-HEA-03', 'EV-HEA-04'],
    when: (f) => fires(f.sizeStalled, []),
  },
  { id: 'size-growing', level: 'callToday', source: ['EV-HEA-01'], when: (f) => fires(f.sizeGrowing, []) },
  // An unanswered emergency is not in the table; the careful reading is that it stays one.
  {
    id: 'unresolved',
    level: 'callNow',
    source: ['cautious'],
    when: (f) => {
      const late = f.unresolved;
      if (!late) return undefined;
      if (late.level === 'emergency') return { level: 'emergency', findings: [], variant: 'emergency' };
      return { findings: [], ...(late.level === 'callNow' ? { variant: 'department' } : {}) };
    },
  },
  {
    id: 'plan-out-of-date',
    level: 'mention',
    source: ['practice'],
    when: (f) => fires(f.daysPastReview > 0, [], f.daysPastReview >= 14 ? { level: 'callToday', variant: 'long' } : {}),
  },
] as const satisfies readonly Row[];
