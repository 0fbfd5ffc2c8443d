interface Props {
  /** The dark modules. */
  path: string;
  /** Modules a side. */
  modules: number;
  /** Clear modules around it. */
  quiet: number;
  label: string;
  /** The side as a CSS length; without it the code takes the width it is given. */
  size?: string | undefined;
}

/** A QR code as lines of ink, always dark on white, with its quiet zone. */
export function CodePicture({ path, modules, quiet, label, size }: Props) {
  const side = modules + 2 * quiet;
  return (
    <svg
      class="code"
      role="img"
      aria-label={label}
      viewBox={`${-quiet} ${-quiet} ${side} ${side}`}
      shape-rendering="crispEdges"
      style={size ? { inlineSize: size, blockSize: size } : undefined}
    >
      <rect x={-quiet} y={-quiet} width={side} height={side} fill="#fff" />
      <path d={path} fill="#000" />
    </svg>
  );
}
