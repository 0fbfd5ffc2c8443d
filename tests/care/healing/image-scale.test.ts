import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Point, Quad } from '../../../app/care/healing/homography.ts';
import {
  areaThrough,
  CARD_MM,
  type Scale,
  type ScaleMark,
  scaleFaults,
  scaleFrom,
  shapeMisfit,
  TAPPED,
  toMm,
} from '../../../app/care/healing/image-scale.ts';
import { polygonArea } from '../../../app/care/healing/outline.ts';
import { measureOutline } from '../../../app/care/healing/traced.ts';
import { PLAIN, projector, type Scene } from '../../exchange/scene.ts';
import { bent, bentArea, ellipse } from './shapes.ts';

const CODE: ScaleMark = { kind: 'code', sideMm: 40 };
const CARD: ScaleMark = { kind: 'card' };
/** A sharp photo on which the corners are known well. */
const GOOD = { cornerErrorPx: 0.1, bendMm: 0.01, blurMm: 0.2 };
const PHOTO = { widthPx: 2000, heightPx: 1500 };

/** A camera above a flat skin, looking between scale and wound. */
const looking = (over: Partial<Scene> = {}): Scene => ({ ...PLAIN, ...PHOTO, focalPx: 1500, distanceMm: 200, aim: [-10, 0], ...over });

/** The corners of a rectangle on the skin, turned. */
function corners(scene: Scene, width: number, height: number, at: Point = [-45, 0], turnDeg = 0): Quad {
  const project = projector(scene);
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const own: Point[] = [
    [-width / 2, -height / 2],
    [width / 2, -height / 2],
    [width / 2, height / 2],
    [-width / 2, height / 2],
  ];
  return own.map(([x, y]) => project([at[0] + x * cos - y * sin, at[1] + x * sin + y * cos])) as unknown as Quad;
}

function must(scale: Scale | undefined): Scale {
  if (!scale) throw new Error('no scale');
  return scale;
}
const withCode = (scene: Scene, at?: Point): Scale => must(scaleFrom(corners(scene, 40, 40, at), CODE, scene, GOOD));
const seen = (scene: Scene, outline: readonly Point[]): Point[] => outline.map((p) => projector(scene)(p));

const views = fc.record({
  tiltDeg: fc.double({ min: 0, max: 40, noNaN: true }),
  tiltTo: fc.double({ min: 0, max: 360, noNaN: true }),
  rollDeg: fc.double({ min: 0, max: 360, noNaN: true }),
  distanceMm: fc.double({ min: 170, max: 230, noNaN: true }),
});

describe('a scale from a code', () => {
  test('gives the true area, length and width from any side, and says how steep the look was', () => {
    fc.assert(
      fc.property(views, (view) => {
        const scene = looking(view);
        const scale = withCode(scene);
        expect(scaleFaults(scale)).toEqual([]);
        expect(scale.tiltDeg).toBeCloseTo(view.tiltDeg, 1);
        const measured = measureOutline(seen(scene, ellipse(12, 7, [8, 3], 180)), scale);
        if (!measured.ok) throw new Error(measured.faults.join());
        expect(measured.traced.areaMm2 / (Math.PI * 12 * 7)).toBeCloseTo(1, 3);
        expect(measured.traced.lengthMm).toBeCloseTo(24, 2);
        expect(measured.traced.widthMm).toBeCloseTo(14, 1);
        expect(measured.traced.errorShare).toBeLessThan(0.05);
      }),
    );
  });

  test('puts places where they are, from the code’s top left corner', () => {
    const scene = looking({ tiltDeg: 25, tiltTo: 70 });
    const [x, y] = toMm(withCode(scene), projector(scene)([-40, 13]));
    expect([x, y].map((v) => v.toFixed(6))).toEqual(['25.000000', '33.000000']);
  });

  test('a code printed at another size, with its true side, gives true mm', () => {
    const scene = looking({ tiltDeg: 20 });
    const scale = must(scaleFrom(corners(scene, 37.5, 37.5), { kind: 'code', sideMm: 37.5 }, scene, GOOD));
    expect(areaThrough(scale, seen(scene, bent(20, 15, 6))).areaMm2).toBeCloseTo(bentArea(20, 15, 6), 4);
  });

  test('level above the skin it makes the area read small, and no fault can tell: words must ask to lay it flat', () => {
    const scene = looking({ distanceMm: 250 });
    const lifted = corners(scene, 40, 40).map((_, i) =>
      projector(scene)([i === 0 || i === 3 ? -65 : -25, i < 2 ? -20 : 20], 10),
    ) as unknown as Quad;
    const scale = must(scaleFrom(lifted, CODE, scene, GOOD));
    expect(scaleFaults(scale)).toEqual([]);
    // (1 − h/d)², by similar triangles; 8 per cent.
    expect(areaThrough(scale, seen(scene, ellipse(10, 10, [10, 0]))).areaMm2 / polygonArea(ellipse(10, 10))).toBeCloseTo(
      (1 - 10 / 250) ** 2,
      6,
    );
  });
});

describe('a scale from a card', () => {
  test('is the same whichever corner is tapped first, in whatever order, and whichever way the card lies', () => {
    const orders = fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(views, orders, fc.double({ min: 0, max: 180, noNaN: true }), (view, order, turn) => {
        const scene = looking({ ...view, widthPx: 3000, heightPx: 3000, aim: [-25, 0] });
        const true4 = corners(scene, CARD_MM.long, CARD_MM.short, [-65, 0], turn);
        const scale = must(scaleFrom(order.map((i) => true4[i]) as unknown as Quad, CARD, scene));
        expect(scaleFaults(scale)).toEqual([]);
        expect(shapeMisfit(scale)).toBeLessThan(0.01);
        expect(areaThrough(scale, seen(scene, ellipse(10, 6, [5, 5]))).areaMm2 / (Math.PI * 60)).toBeCloseTo(1, 3);
      }),
    );
  });

  test.each<[string, number, number]>([
    ['a business card of 90 × 50 mm', 90, 50],
    ['a square', 70, 70],
    ['a playing card of 88 × 63 mm', 88, 63],
  ])('%s is told from it', (_name, width, height) => {
    for (const tiltDeg of [0, 15, 35]) {
      const scene = looking({ tiltDeg, tiltTo: 40, widthPx: 3000, heightPx: 3000 });
      expect(scaleFaults(must(scaleFrom(corners(scene, width, height, [-65, 0], 12), CARD, scene)))).toContain('cornersOff');
    }
  });

  test('with one corner tapped in the wrong place is refused', () => {
    const scene = looking({ tiltDeg: 10, widthPx: 3000, heightPx: 3000 });
    const [a, b, c, d] = corners(scene, CARD_MM.long, CARD_MM.short, [-65, 0]);
    expect(scaleFaults(must(scaleFrom([a, b, [c[0] - 60, c[1] - 40], d], CARD, scene)))).toContain('cornersOff');
  });

  test('corners that make no four-cornered shape give no scale', () => {
    expect(
      scaleFrom(
        [
          [0, 0],
          [100, 0],
          [50, 30],
          [50, 100],
        ],
        CARD,
        PHOTO,
      ),
    ).toBeUndefined();
    expect(
      scaleFrom(
        [
          [0, 0],
          [100, 0],
          [200, 0],
          [300, 0],
        ],
        CARD,
        PHOTO,
      ),
    ).toBeUndefined();
    expect(
      scaleFrom(
        [
          [9, 9],
          [9, 9],
          [9, 9],
          [9, 9],
        ],
        CODE,
        PHOTO,
      ),
    ).toBeUndefined();
  });

  test('tapped by hand in few pixels is too small, in many it is not', () => {
    const near = looking({ distanceMm: 200, aim: [-30, 0] });
    const far = looking({ distanceMm: 320, aim: [-30, 0] });
    const scaleOf = (scene: Scene) => must(scaleFrom(corners(scene, CARD_MM.long, CARD_MM.short, [-62, 0]), CARD, scene, TAPPED));
    expect(scaleFaults(scaleOf(near))).toEqual([]);
    expect(scaleFaults(scaleOf(far))).toEqual(['tooSmall']);
  });

  test('the error it states is the error that taps make', () => {
    const scene = looking({ tiltDeg: 20, aim: [-30, 0] });
    const true4 = corners(scene, CARD_MM.long, CARD_MM.short, [-62, 0]);
    const outline = seen(scene, ellipse(10, 10, [10, 0], 60));
    const { areaMm2, errorShare } = areaThrough(must(scaleFrom(true4, CARD, scene, TAPPED)), outline);
    let state = 5;
    const chance = (): number => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return (state + 1) / 2 ** 32;
    };
    const bell = (): number => Math.sqrt(-2 * Math.log(chance())) * Math.cos(2 * Math.PI * chance());
    const off = Array.from({ length: 800 }, () => {
      const taps = true4.map(([x, y]): Point => [x + TAPPED.cornerErrorPx * bell(), y + TAPPED.cornerErrorPx * bell()]);
      return areaThrough(must(scaleFrom(taps as unknown as Quad, CARD, scene)), outline).areaMm2 / areaMm2 - 1;
    });
    const deviation = Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / off.length);
    expect(deviation / errorShare).toBeGreaterThan(0.9);
    expect(deviation / errorShare).toBeLessThan(1.1);
  });
});

describe('what speaks against a scale', () => {
  test('a look from the side: up to 40° is taken, 50° and 60° are not', () => {
    for (const tiltTo of [0, 45, 90, 200]) {
      const faults = (tiltDeg: number) => scaleFaults(withCode(looking({ tiltDeg, tiltTo })));
      expect(faults(40)).toEqual([]);
      expect(faults(50)).toContain('tooOblique');
      expect(faults(60)).toContain('tooOblique');
    }
  });

  test('few pixels, a bent sheet, a soft picture, and corners outside the photo', () => {
    const scene = looking();
    const faultsWith = (fit: object) => scaleFaults(must(scaleFrom(corners(scene, 40, 40), CODE, scene, { ...GOOD, ...fit })));
    expect(faultsWith({})).toEqual([]);
    expect(faultsWith({ bendMm: 0.15 })).toEqual(['outOfPlane']);
    expect(faultsWith({ blurMm: 0.5 })).toEqual(['blurred']);
    expect(faultsWith({ bendMm: Number.NaN, blurMm: Number.POSITIVE_INFINITY })).toEqual(['outOfPlane', 'blurred']);
    expect(scaleFaults(withCode(looking({ distanceMm: 400 })))).toEqual(['tooSmall']);
    expect(scaleFaults(withCode(looking({ aim: [75, 0] })))).toContain('cutOff');
  });
});

describe('what speaks against an outline', () => {
  const scene = looking();
  const scale = withCode(scene);
  const faultsOf = (outline: readonly Point[], by = scale): readonly string[] => {
    const measured = measureOutline(outline, by);
    return measured.ok ? [] : measured.faults;
  };

  test('a good one has none', () => {
    expect(faultsOf(seen(scene, ellipse(10, 8, [10, 0])))).toEqual([]);
  });

  test('fewer than three points, an outline without area, one that crosses itself', () => {
    expect(
      faultsOf(
        seen(scene, [
          [0, 0],
          [5, 5],
        ]),
      ),
    ).toEqual(['tooFewPoints']);
    expect(faultsOf([])).toEqual(['tooFewPoints']);
    expect(
      faultsOf(
        seen(scene, [
          [0, 0],
          [5, 0],
          [9, 0],
        ]),
      ),
    ).toContain('noArea');
    expect(
      faultsOf(
        seen(scene, [
          [0, 0],
          [20, 15],
          [20, 0],
          [0, 12],
        ]),
      ),
    ).toContain('crosses');
  });

  test('an outline at the photo’s edge', () => {
    expect(faultsOf(seen(scene, ellipse(10, 8, [10, 0])).map(([x, y]): Point => [x, Math.max(0, y - 790)]))).toContain('cutOff');
  });

  test('an outline on the scale, on the paper round its code, or round the whole of it', () => {
    expect(faultsOf(seen(scene, ellipse(10, 8, [-30, 0])))).toContain('onScale');
    expect(faultsOf(seen(scene, ellipse(10, 8, [-13, 0])))).toContain('onScale');
    expect(faultsOf(seen(scene, ellipse(10, 8, [-9, 0])))).toEqual([]);
    expect(faultsOf(seen(scene, ellipse(60, 50, [-45, 0])))).toContain('onScale');
  });

  test('a wound far from the scale, also beyond its horizon', () => {
    const wide = looking({ widthPx: 6000, heightPx: 4500, focalPx: 4500, distanceMm: 400 });
    expect(faultsOf(seen(wide, ellipse(12, 12, [115, 0])), withCode(wide))).toEqual(['tooFar']);
    const steep = looking({ tiltDeg: 40, tiltTo: 0 });
    const over = withCode(steep);
    expect(
      faultsOf(
        [
          [1990, 10],
          [1990, 700],
          [-90_000, 400],
        ],
        over,
      ),
    ).toContain('tooFar');
  });

  test('an error of the corners that grows too large over the distance', () => {
    const loose = must(scaleFrom(corners(scene, 40, 40), CODE, scene, { cornerErrorPx: 2 }));
    expect(faultsOf(seen(scene, ellipse(10, 8, [40, 0])), loose)).toContain('tooFar');
  });

  test('a wound of too few pixels, unless it is next to nothing', () => {
    const far = looking({ distanceMm: 450, widthPx: 4000, heightPx: 3000 });
    const by = withCode(far);
    expect(faultsOf(seen(far, ellipse(6, 4, [8, 0])), by)).toEqual(['tooSmall']);
    expect(faultsOf(seen(far, ellipse(0.8, 0.8, [8, 0])), by)).toEqual([]);
    expect(faultsOf(seen(far, ellipse(20, 15, [12, 0])), by)).toEqual([]);
  });

  test('more than 400 mm', () => {
    const wrong = must(scaleFrom(corners(scene, 1.5, 1.5), CODE, scene, GOOD));
    expect(faultsOf(seen(scene, ellipse(10, 8, [10, 0])), wrong)).toContain('tooLarge');
  });
});
