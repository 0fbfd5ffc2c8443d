import type { LoggedRule } from '../care/log/records.ts';
import { isOneOf, reasonText } from '../words/reasons.ts';
import { LevelMark } from './level.tsx';
import { useWords } from './use-words.ts';

/** Why a level was reached: every rule that fired, in plain words. */
export function Reasons({ fired }: { fired: readonly LoggedRule[] }) {
  // Most days there is no reason to show, so the words for them come when they are needed.
  if (!useWords(['rules', 'check'])) return null;
  const texts = fired.filter((rule, i) => fired.findIndex((other) => isOneOf(other, rule)) === i);
  return (
    <ul class="reasons">
      {texts.map((rule) => (
        <li key={rule.rule}>
          <LevelMark level={rule.level} />
          <span>{reasonText(rule)}</span>
        </li>
      ))}
    </ul>
  );
}
