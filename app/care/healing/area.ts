/**
 * Area in mm² of an ellipse with these diameters: L × W × π/4. Multiplying
 * length by width alone overstates an ellipse by 27 % [EV-HEA-14, geometry].
 */
export function ellipseAreaMm2(lengthMm: number, widthMm: number): number {
  return (lengthMm * widthMm * Math.PI) / 4;
}

/**
 * Length in mm of the edge of an ellipse with these diameters, by Ramanujan's
 * second approximation (1914, from memory): π(a+b)(1 + 3h/(10 + √(4 − 3h))),
 * h = ((a−b)/(a+b))². Exact for a circle, at worst 0.04 % short for a line.
 */
export function ellipsePerimeterMm(lengthMm: number, widthMm: number): number {
  const sum = lengthMm + widthMm;
  if (sum === 0) return 0;
  const h = ((lengthMm - widthMm) / sum) ** 2;
  return (Math.PI / 2) * sum * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
}

/** Radius in mm of the circle with this area: √(A/π) [EV-HEA-12, Zimny 2004]. */
export function equivalentRadiusMm(areaMm2: number): number {
  return Math.sqrt(areaMm2 / Math.PI);
}
