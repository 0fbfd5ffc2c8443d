import { type Code, pathOf, QUIET_MODULES } from '../exchange/qr-write.ts';

/** A QR code as lines of ink, always dark on white, with its quiet zone. */
export function CodePicture({ code, label, size }: { code: Code; label: string; size?: string }) {
  const side = code.size + 2 * QUIET_MODULES;
  return (
    <svg
      class="code"
      role="img"
      aria-label={label}
      viewBox={`${-QUIET_MODULES} ${-QUIET_MODULES} ${side} ${side}`}
      shape-rendering="crispEdges"
      style={size ? { inlineSize: size, blockSize: size } : undefined}
    >
      <rect x={-QUIET_MODULES} y={-QUIET_MODULES} width={side} height={side} fill="#fff" />
      <path d={pathOf(code)} fill="#000" />
    </svg>
  );
}
