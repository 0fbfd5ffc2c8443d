import type { Outcome } from '../care/escalation/levels.ts';
import { t } from '../words/i18n.ts';

/**
 * The mark of a level. Shapes follow the public conventions of safety signs:
 * octagon to stop, triangle to warn; a dot to mention; nothing to carry on.
 */
export function LevelMark({ level }: { level: Outcome }) {
  const shape = SHAPES[level];
  return shape ? (
    <svg class={`mark mark-${level}`} viewBox="0 0 48 48" aria-hidden="true">
      {shape}
    </svg>
  ) : null;
}

const bang = (
  <g class="mark-sign">
    <path d="M24 17v13" />
    <path d="M24 36v.1" />
  </g>
);
const SHAPES: Partial<Record<Outcome, preact.JSX.Element>> = {
  emergency: (
    <>
      <path class="mark-body" d="M15.5 3h17L45 15.5v17L32.5 45h-17L3 32.5v-17z" />
      <path class="mark-sign" d="M24 12v16M24 36v.1" />
    </>
  ),
  callNow: (
    <>
      <path class="mark-body" d="M24 5l21 38H3z" />
      {bang}
    </>
  ),
  callToday: (
    <>
      <path class="mark-line" d="M24 6l20 36H4z" />
      {bang}
    </>
  ),
  mention: <circle class="mark-body" cx="24" cy="24" r="8" />,
  unfinished: <circle class="mark-line" cx="24" cy="24" r="16" />,
};

/** A level in a word, with its mark. */
export function LevelWord({ level }: { level: Outcome }) {
  return (
    <span class={`level level-${level}`}>
      <LevelMark level={level} />
      <span>{t(`alert:short.${level}`)}</span>
    </span>
  );
}
