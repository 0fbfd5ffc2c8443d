/**
 * Area in mm² of an ellipse with these diameters: L × W × π/4. Multiplying
 * length by width alone overstates an ellipse by 27 % [EV-HEA-14, geometry].
 */
export function ellipseAreaMm2(lengthMm: number, widthMm: number): number {
  return (lengthMm * widthMm * Math.PI) / 4;
}
