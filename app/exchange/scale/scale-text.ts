/** Side of the printed scale code, mm, outer edge to outer edge of the dark modules. */
export const SCALE_SIDE_MM = 40;
/** Sides that a scale code may claim, mm; a smaller one is hard to read, a larger one is no longer beside a wound. */
const SIDE_LEAST_MM = 20;
const SIDE_MOST_MM = 100;

/**
 * Said after the figures, for whoever reads the code with another reader, and
 * to make the code dense: 41 modules a side (version 6) place many edges.
 */
const SAID = ' This square is a scale. Lay it flat beside the wound, never on it.';

/** The text of a scale code whose dark square is so wide. */
export const scaleCodeText = (sideMm: number): string => `tendbook-scale:1:${sideMm}${SAID}`;

/** The side in mm that a scale code states; undefined for any other text and for a side that no page of ours has. */
export function readScaleText(text: string): number | undefined {
  const side = Number(/^tendbook-scale:1:(\d{2,3}(?:\.\d{1,2})?)(?: |$)/.exec(text)?.[1]);
  return side >= SIDE_LEAST_MM && side <= SIDE_MOST_MM ? side : undefined;
}
