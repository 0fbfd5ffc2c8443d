import { type Homography, mapPoint, type Point } from '../../care/healing/homography.ts';

/** What this part reads of an `ImageData`. */
export interface PixelGrid {
  width: number;
  height: number;
  data: Uint8ClampedArray;
}

/** Reads how bright a picture is at a place, 0 to 255, between pixels too. The place is in px, a pixel's middle at one half. */
export type Brightness = (p: Point) => number;

/** @returns a reader that gives NaN outside the picture. */
export function brightnessOf({ width, height, data }: PixelGrid): Brightness {
  const grey = (x: number, y: number): number => {
    const i = (y * width + x) * 4;
    return ((data[i] as number) + 2 * (data[i + 1] as number) + (data[i + 2] as number)) / 4;
  };
  return ([px, py]) => {
    const x = px - 0.5;
    const y = py - 0.5;
    const left = Math.floor(x);
    const top = Math.floor(y);
    if (!(left >= 0 && top >= 0 && left < width - 1 && top < height - 1)) return Number.NaN;
    const [fx, fy] = [x - left, y - top];
    const upper = grey(left, top) * (1 - fx) + grey(left + 1, top) * fx;
    const lower = grey(left, top + 1) * (1 - fx) + grey(left + 1, top + 1) * fx;
    return upper * (1 - fy) + lower * fy;
  };
}

/** How bright a picture is along lines of a plane that a map takes into it. */
export const through =
  (brightness: Brightness, map: Homography): Brightness =>
  (p) =>
    brightness(mapPoint(map, p));
