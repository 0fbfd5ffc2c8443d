/**
 * Area in mm² of an ellipse with these diameters: L × W × π/4. Multiplying
 * length by width alone overstates an ellipse by 27 % [EV-HEA-14, geometry].
 */
export function ellipseAreaMm2(lengthMm: number, widthMm: number): number {
  return (lengthMm * widthMm * Math.PI) / 4;
}

/**
 * Area reduction in per cent of the first area; negative when the wound is
 * larger [EV-HEA-01].
 * @throws RangeError when the first area is not above zero.
 */
export function areaReductionPercent(firstMm2: number, nowMm2: number): number {
  if (!(firstMm2 > 0)) throw new RangeError('the first area must be above zero');
  return (100 * (firstMm2 - nowMm2)) / firstMm2;
}
