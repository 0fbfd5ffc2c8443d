import type { Finding } from '../care/plan/findings.ts';
import type { LocalDay } from '../care/schedule/day.ts';
import { formatDay, formatLength, formatNumber, inARow } from '../words/format.ts';
import { hasWords, t } from '../words/i18n.ts';

type Say = (value: string) => string;

/** How each code in the values of a finding is said. */
const CODES: Readonly<Record<string, Say>> = {
  family: (v) => t(`common:family.${v}`),
  with: (v) => t(`common:family.${v}`),
  layer: (v) => t(`clinic:layer.${v}`),
  cleanser: (v) => t(`clinic:cleanser.${v}`),
  skinProtection: (v) => t(`clinic:protection.${v}`),
  step: (v) => t(`change:step.${v}.title`),
  least: (v) => t(`alert:short.${v}`),
  day: (v) => formatDay(v as LocalDay),
  visit: (v) => formatDay(v as LocalDay),
  value: (v) => (v.includes(':') ? answerName(v) : t(`alert:short.${v}`)),
  field: (v) => fieldName(v.split('.').at(-1) ?? v),
  items: (v) => inARow(v.split(',').map(itemName)),
};

/** A part of a recipe, `kind:code`. */
function itemName(item: string): string {
  const [kind, code] = item.split(':') as [string, string];
  const name = CODES[kind]?.(code) ?? code;
  return kind === 'step' ? t('clinic:findings.step', { step: name }) : name;
}

/** An answer of the check, `question:code`, in a few words. */
export function answerName(finding: string): string {
  const [id, code] = finding.split(':') as [string, string];
  return t('check:line', { question: t(`check:${id}.short`), answer: t(`check:${id}.said.${code}`) });
}

function fieldName(id: string): string {
  const threshold = `clinic:threshold.${id}`;
  if (hasWords(threshold)) return t(threshold);
  const rule = `clinic:rule.${id}`;
  return hasWords(rule) ? t(rule) : id;
}

function said(key: string, value: string | number): string {
  if (typeof value === 'number') return key.endsWith('Mm') ? formatLength(value, 'cm') : formatNumber(value);
  return CODES[key]?.(value) ?? value;
}

/** The reason of a finding in the clinician's words. */
export function findingText({ id, variant, params }: Finding): string {
  const values = Object.fromEntries(Object.entries(params).map(([key, value]) => [key, said(key, value)]));
  return t(`clinic:finding.${id}.${variant ?? 'plain'}`, values);
}
