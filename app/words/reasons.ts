import type { LoggedRule } from '../care/log/records.ts';
import { formatList, formatNumber } from './format.ts';
import { hasWords, spoken, t } from './i18n.ts';

/** A rule in plain words, as a reason. */
export function reasonText(rule: LoggedRule): string {
  const key = `rules:${rule.rule}`;
  const variant = rule.variant ? `${key}.${rule.variant}` : `${key}.plain`;
  return t(hasWords(variant) ? variant : `${key}.plain`, paramsOf(rule));
}

/** Two firings that read the same are shown once. */
export const isOneOf = (a: LoggedRule, b: LoggedRule): boolean => a.rule === b.rule && a.variant === b.variant;

function paramsOf(rule: LoggedRule): Record<string, string> {
  const params: Record<string, string> = {};
  for (const [key, value] of Object.entries(rule.params ?? {})) {
    if (key === 'questions')
      params[key] = formatList(
        String(value)
          .split(',')
          .map((id) => lowerFirst(t(`check:${id}.short`))),
      );
    else params[key] = typeof value === 'number' ? formatNumber(value) : value;
  }
  if (rule.rule === 'two-signs') params.signs = formatList(signsOf(rule));
  if (rule.rule === 'one-sign') params.signs = formatList(signsOf(rule));
  if (rule.rule === 'sepsis-sign') params.signs = formatList(signsOf(rule));
  return params;
}

/** A name as it stands within a sentence. */
const lowerFirst = (name: string): string => name.slice(0, 1).toLocaleLowerCase(spoken()) + name.slice(1);

/** The findings a rule rests on, in short words. */
export function signsOf(rule: LoggedRule): string[] {
  return [...new Set(rule.findings.map((finding) => findingText(finding)))];
}

/** `question:code` in short words, such as "more pain than usual". */
export function findingText(finding: string): string {
  const [question, code] = finding.split(':');
  return t(`check:${question}.said.${code}`);
}
