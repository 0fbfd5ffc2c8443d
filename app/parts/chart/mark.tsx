import type { Look } from './shape.ts';

/** The dashes of a line, by look. */
export const DASHES: Record<Look, string | undefined> = { disc: undefined, ring: '7 5', diamond: '2 4', square: '10 4 2 4' };

/** Whether the mark is filled: half of them are, so that grey print tells them apart even where they are small. */
const isFilled = (look: Look): boolean => look === 'disc' || look === 'diamond';

/** One mark around a point. */
export function Mark({ look, x, y, size }: { look: Look; x: number; y: number; size: number }) {
  const half = size / 2;
  const kind = `chart-mark ${isFilled(look) ? 'is-full' : 'is-hollow'}`;
  if (look === 'disc' || look === 'ring') return <circle class={kind} cx={x} cy={y} r={half} />;
  // A diamond of the same width looks smaller than a disc.
  const reach = half * 1.25;
  if (look === 'diamond') return <path class={kind} d={`M${x} ${y - reach}l${reach} ${reach}l${-reach} ${reach}l${-reach} ${-reach}z`} />;
  return <rect class={kind} x={x - half} y={y - half} width={size} height={size} />;
}

interface BarProps {
  look: Look;
  x: number;
  top: number;
  bottom: number;
  width?: number;
}

/** An upright bar with round ends: several days in one, from the lowest to the highest, or a slim mark. */
export function BarMark({ look, x, top, bottom, width = 4 }: BarProps) {
  return (
    <rect
      class={`chart-bar ${isFilled(look) ? 'is-full' : 'is-hollow'}`}
      x={x - width / 2}
      y={top - width / 2}
      width={width}
      height={bottom - top + width}
      rx={width / 2}
    />
  );
}
