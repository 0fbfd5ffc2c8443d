import { createRequire } from 'node:module';
import { beforeAll, describe, expect, test } from 'vitest';
import { homographyFrom, mapPoint, type Point, type Quad } from '../../app/care/healing/homography.ts';
import { type ScaleMark, scaleFrom } from '../../app/care/healing/image-scale.ts';
import { isInside, lengthAndWidth, perimeterOf, polygonArea } from '../../app/care/healing/outline.ts';
import { bent, ellipse, star } from '../care/healing/shapes.ts';

/**
 * Against OpenCV 4.12 (its JavaScript build, Apache-2.0, https://opencv.org):
 * `getPerspectiveTransform`, `perspectiveTransform`, `contourArea`, `arcLength`
 * and `minEnclosingCircle`. OpenCV holds points in 32 bits, which alone makes
 * areas differ by up to some 1e-6.
 */
interface Mat {
  data32F: Float32Array;
  delete(): void;
}
interface OpenCv {
  CV_32FC2: number;
  Mat: new () => Mat;
  matFromArray(rows: number, cols: number, type: number, data: readonly number[]): Mat;
  getPerspectiveTransform(from: Mat, to: Mat): Mat;
  perspectiveTransform(from: Mat, to: Mat, map: Mat): void;
  contourArea(points: Mat): number;
  arcLength(points: Mat, closed: boolean): number;
  minEnclosingCircle(points: Mat): { center: { x: number; y: number }; radius: number };
  pointPolygonTest(points: Mat, p: { x: number; y: number }, distance: boolean): number;
}

let cv: OpenCv;
beforeAll(async () => {
  const loading = createRequire(import.meta.url)('@techstark/opencv-js') as { then?: (ready: (cv: OpenCv) => void) => void };
  // It calls back with itself and is still something to wait for, so that `await` alone would never end.
  cv = await new Promise<OpenCv>((resolve) =>
    loading.then?.((ready) => {
      delete loading.then;
      resolve(ready);
    }),
  );
});

/** Lends OpenCV points and takes the memory back. */
function lent<T>(sets: readonly (readonly Point[])[], work: (...mats: Mat[]) => T): T {
  const mats = sets.map((points) => cv.matFromArray(points.length, 1, cv.CV_32FC2, points.flat()));
  try {
    return work(...mats);
  } finally {
    for (const mat of mats) mat.delete();
  }
}

/** The outline in mm as OpenCV sees it, with its area and length. */
function byOpenCv(outline: readonly Point[], from: Quad, to: Quad): { mm: Point[]; area: number; perimeter: number } {
  return lent([outline, from, to], (points, before, after) => {
    const [map, out] = [cv.getPerspectiveTransform(before as Mat, after as Mat), new cv.Mat()];
    try {
      cv.perspectiveTransform(points as Mat, out, map);
      const flat = out.data32F;
      const mm = outline.map((_, i): Point => [flat[2 * i] as number, flat[2 * i + 1] as number]);
      return { mm, area: cv.contourArea(out), perimeter: cv.arcLength(out, true) };
    } finally {
      map.delete();
      out.delete();
    }
  });
}

let state = 20310304;
const chance = (from: number, to: number): number => {
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return from + ((to - from) * state) / 2 ** 32;
};

const SHAPES: Readonly<Record<string, readonly Point[]>> = {
  ellipse: ellipse(11, 6, [0, 0], 120),
  L: bent(22, 17, 7, [-11, -8]),
  star: star(6, 12, 6),
};

interface View {
  name: string;
  corners: Quad;
  mark: ScaleMark;
  shape: readonly Point[];
  /** From the skin to the photo, by a pinhole camera of its own. */
  see: (p: Point) => Point;
}

/** A camera at random: up to 40° from straight above, any turn, near or far. */
function view(name: string, shape: readonly Point[], mark: ScaleMark): View {
  const [tilt, to, roll] = [chance(0, 0.698), chance(0, 6.283), chance(0, 6.283)];
  const [distance, focal, aimX, aimY] = [chance(160, 320), chance(1300, 1900), chance(-15, 5), chance(-10, 10)];
  const turned = ([x, y]: Point, angle: number): Point => [
    x * Math.cos(angle) - y * Math.sin(angle),
    x * Math.sin(angle) + y * Math.cos(angle),
  ];
  const see = (p: Point): Point => {
    const [u, v] = turned([p[0] - aimX, p[1] - aimY], to);
    const [depth, side] = [distance + u * Math.sin(tilt), u * Math.cos(tilt)];
    const [x, y] = turned([(focal * side) / depth, (focal * v) / depth], roll);
    return [1024 + x, 768 + y];
  };
  const [w, h] = mark.kind === 'code' ? [mark.sideMm, mark.sideMm] : [85.6, 53.98];
  const lies = chance(0, 6.283);
  const own: Point[] = [
    [-w / 2, -h / 2],
    [w / 2, -h / 2],
    [w / 2, h / 2],
    [-w / 2, h / 2],
  ];
  const corners = own.map((p) => see([turned(p, lies)[0] - 70, turned(p, lies)[1]])) as unknown as Quad;
  return { name, corners, mark, shape, see };
}

const CODE: ScaleMark = { kind: 'code', sideMm: 40 };
const views = Array.from({ length: 300 }, (_, i) => {
  const [name, shape] = Object.entries(SHAPES)[i % 3] as [string, readonly Point[]];
  return view(name, shape, i % 2 === 0 ? CODE : { kind: 'card' });
});

describe('homography and area against OpenCV', () => {
  test('on 300 random perspectives areas and lengths agree to 0.1 per cent, and to a hundredth of that', () => {
    const off = views.map(({ corners, mark, shape, see }) => {
      const scale = scaleFrom(corners, mark, { widthPx: 2048, heightPx: 1536 });
      if (!scale) throw new Error('no scale');
      const outline = shape.map(see);
      const own = outline.map((p) => mapPoint(scale.toMm, p));
      const theirs = byOpenCv(outline, scale.corners, scale.cornersMm);
      expect(theirs.area).toBeGreaterThan(100);
      return Math.max(Math.abs(polygonArea(own) / theirs.area - 1), Math.abs(perimeterOf(own) / theirs.perimeter - 1));
    });
    expect(off).toHaveLength(300);
    expect(Math.max(...off)).toBeLessThan(1e-3);
    expect(Math.max(...off)).toBeLessThan(1e-5);
  });

  test('places agree, and so does what is measured with what was drawn', () => {
    for (const { corners, mark, shape, see } of views) {
      const scale = scaleFrom(corners, mark, { widthPx: 2048, heightPx: 1536 });
      if (!scale) throw new Error('no scale');
      const theirs = byOpenCv(shape.map(see), scale.corners, scale.cornersMm);
      const own = shape.map((p) => mapPoint(scale.toMm, see(p)));
      const apart = Math.max(...own.map(([x, y], i) => Math.hypot(x - (theirs.mm[i] as Point)[0], y - (theirs.mm[i] as Point)[1])));
      expect(apart).toBeLessThan(1e-3);
      expect(Math.abs(theirs.area / polygonArea(shape) - 1)).toBeLessThan(1e-4);
    }
  });

  test('on corners astray by chance, which no camera need have made, too', () => {
    const square: Quad = [
      [0, 0],
      [40, 0],
      [40, 40],
      [0, 40],
    ];
    for (let i = 0; i < 200; i++) {
      const corners = square.map(([x, y]): Point => [x * 10 + 300 + chance(-90, 90), y * 10 + 200 + chance(-90, 90)]) as unknown as Quad;
      const map = homographyFrom(corners, square);
      if (!map) throw new Error('no map');
      const outline = ellipse(60, 40, [500, 400], 90);
      const theirs = byOpenCv(outline, corners, square);
      expect(Math.abs(polygonArea(outline.map((p) => mapPoint(map, p))) / theirs.area - 1)).toBeLessThan(1e-3);
    }
  });

  test('the length of an ellipse is the diameter of the circle round it, and inside is inside', () => {
    const ellipses = views.filter((v) => v.name === 'ellipse' && v.mark.kind === 'code');
    expect(ellipses.length).toBeGreaterThan(40);
    for (const { corners, mark, shape, see } of ellipses) {
      const scale = scaleFrom(corners, mark, { widthPx: 2048, heightPx: 1536 });
      if (!scale) throw new Error('no scale');
      const { mm } = byOpenCv(shape.map(see), scale.corners, scale.cornersMm);
      lent([mm], (points) => {
        expect(lengthAndWidth(mm).length / (2 * cv.minEnclosingCircle(points as Mat).radius)).toBeCloseTo(1, 3);
        for (let k = 0; k < 20; k++) {
          const [x, y] = [(mm[0] as Point)[0] + chance(-25, 25), (mm[0] as Point)[1] + chance(-25, 25)];
          const side = cv.pointPolygonTest(points as Mat, { x, y }, true);
          if (Math.abs(side) > 1e-3) expect(isInside(mm, [x, y])).toBe(side > 0);
        }
      });
    }
  });
});
