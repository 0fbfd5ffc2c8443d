import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { begun, extended, fromShares, NO_OUTLINE, pulled, refined, toShares, undone, wiped } from '../../app/screens/photo/outline.ts';
import { heightOf, moved, type PictureSize, viewAround, wholeView, zoomed } from '../../app/screens/photo/view.ts';

const SIZE: PictureSize = { widthPx: 1600, heightPx: 1200 };
const spot = fc.record({ x: fc.double({ min: 0, max: 1600, noNaN: true }), y: fc.double({ min: 0, max: 1200, noNaN: true }) });
const spots = fc.array(spot, { minLength: 3, maxLength: 40 });

describe('a line being drawn', () => {
  it('every act can be taken back, one at a time, to the very start', () => {
    fc.assert(
      fc.property(fc.array(spots, { minLength: 1, maxLength: 8 }), (strokes) => {
        const states = [NO_OUTLINE];
        for (const stroke of strokes) states.push(stroke.reduce((o, s) => extended(o, s, 2), begun(states.at(-1) ?? NO_OUTLINE)));
        let outline = states.at(-1) ?? NO_OUTLINE;
        for (const before of states.slice(0, -1).reverse()) {
          outline = undone(outline);
          expect(outline.spots).toEqual(before.spots);
        }
        expect(undone(outline)).toEqual(outline);
      }),
    );
  });

  it('wiping can be taken back too', () => {
    const drawn = [10, 20, 30].reduce((o, x) => extended(o, { x, y: x * x }, 1), begun(NO_OUTLINE));
    expect(wiped(drawn).spots).toEqual([]);
    expect(undone(wiped(drawn)).spots).toEqual(drawn.spots);
  });

  it('places nearer than asked for are left out, and the others kept as they are', () => {
    const outline = [0, 1, 2, 5, 5.5, 9].reduce((o, x) => extended(o, { x, y: 0 }, 3), NO_OUTLINE);
    expect(outline.spots.map((s) => s.x)).toEqual([0, 5, 9]);
  });

  it('a pull moves what is under the finger all the way and nothing beyond its reach', () => {
    fc.assert(
      fc.property(spots, spot, spot, fc.double({ min: 1, max: 400, noNaN: true }), (line, at, by, reach) => {
        const before = { ...NO_OUTLINE, spots: [at, ...line] };
        const after = pulled(before, at, by, reach).spots;
        expect(after[0]).toEqual({ x: at.x + by.x, y: at.y + by.y });
        line.forEach((s, i) => {
          if (Math.hypot(s.x - at.x, s.y - at.y) >= reach) expect(after[i + 1]).toEqual(s);
        });
      }),
    );
  });

  it('a refined line has the same corners and no longer gap than asked for', () => {
    fc.assert(
      fc.property(spots, fc.double({ min: 5, max: 200, noNaN: true }), (line, every) => {
        const fine = refined(line, every);
        for (const s of line) expect(fine).toContainEqual(s);
        fine.forEach((s, i) => {
          const next = fine[(i + 1) % fine.length] ?? s;
          expect(Math.hypot(next.x - s.x, next.y - s.y)).toBeLessThanOrEqual(every + 1e-6);
        });
      }),
    );
  });

  it('as shares it comes back within a pixel, and never off the picture', () => {
    fc.assert(
      fc.property(spots, (line) => {
        const shares = toShares([...line, { x: -50, y: 9999 }], SIZE);
        expect(shares.flat().every((v) => v >= 0 && v <= 1)).toBe(true);
        fromShares(shares.slice(0, line.length), SIZE).forEach((s, i) => {
          expect(Math.hypot(s.x - (line[i]?.x ?? 0), s.y - (line[i]?.y ?? 0))).toBeLessThan(1);
        });
      }),
    );
  });
});

describe('the part of the picture on screen', () => {
  it('what was under the finger stays there while zooming in', () => {
    fc.assert(
      fc.property(spot, fc.double({ min: 1.05, max: 3, noNaN: true }), (at, times) => {
        const view = zoomed(wholeView(SIZE), times, at, SIZE);
        expect((at.x - view.x) / view.width).toBeCloseTo(at.x / SIZE.widthPx, 6);
        expect((at.y - view.y) / heightOf(view, SIZE)).toBeCloseTo(at.y / SIZE.heightPx, 6);
      }),
    );
  });

  it('never leaves the picture, however it is moved and zoomed', () => {
    const act = fc.tuple(
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      spot,
      fc.integer({ min: -3000, max: 3000 }),
      fc.integer({ min: -3000, max: 3000 }),
    );
    fc.assert(
      fc.property(fc.array(act, { maxLength: 20 }), (acts) => {
        let view = wholeView(SIZE);
        for (const [times, at, x, y] of acts) view = moved(zoomed(view, times, at, SIZE), { x, y }, SIZE);
        const middle = { x: view.x + view.width / 2, y: view.y + heightOf(view, SIZE) / 2 };
        expect(view.width).toBeLessThanOrEqual(SIZE.widthPx);
        expect(view.width).toBeGreaterThanOrEqual(SIZE.widthPx / 12 - 1e-9);
        expect(middle.x).toBeGreaterThanOrEqual(-1e-6);
        expect(middle.x).toBeLessThanOrEqual(SIZE.widthPx + 1e-6);
        expect(middle.y).toBeGreaterThanOrEqual(-1e-6);
        expect(middle.y).toBeLessThanOrEqual(SIZE.heightPx + 1e-6);
      }),
    );
  });

  it('around a line, all of the line is on screen; around nothing, all of the picture', () => {
    fc.assert(
      fc.property(spots, (line) => {
        const view = viewAround(line, SIZE);
        const inside = line.every((s) => s.x >= view.x - 1e-6 && s.x <= view.x + view.width + 1e-6);
        expect(inside).toBe(true);
      }),
    );
    expect(viewAround([], SIZE)).toEqual(wholeView(SIZE));
  });
});
