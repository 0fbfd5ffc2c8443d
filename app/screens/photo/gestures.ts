import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { moved, type PictureSize, type Spot, type View, zoomed } from './view.ts';

/** What one finger, a pen or the mouse does on the picture; places in px of the picture. */
export interface Touch {
  down(at: Spot, pxPerScreenPx: number): void;
  move(at: Spot, by: Spot, pxPerScreenPx: number): void;
  up(): void;
  /** A second finger came down: what the first one did was the beginning of a zoom. */
  cancel(): void;
}

interface Looking {
  size: PictureSize;
  view: View;
  onView: (view: View) => void;
  /** Without it one finger moves the picture. */
  touch?: Touch | undefined;
}

const WHEEL_STEP = 1.15;
/** Fingers closer than this, in px of the screen, tell no zoom. */
const GAP_LEAST = 10;

/** One finger acts, two zoom and move the picture, a wheel zooms it. */
export function useGestures(svg: RefObject<SVGSVGElement | null>, looking: Looking) {
  const now = useRef(looking);
  // Several moves may come between two drawings of the page; each builds on the one before.
  now.current = looking;
  const fingers = useRef(new Map<number, Spot>());
  const acting = useRef<{ id: number; last: Spot } | undefined>(undefined);

  const spotOf = ({ x, y }: Spot): Spot => {
    const matrix = svg.current?.getScreenCTM()?.inverse();
    if (!matrix) return { x: 0, y: 0 };
    const at = new DOMPoint(x, y).matrixTransform(matrix);
    return { x: at.x, y: at.y };
  };
  const perScreenPx = (): number => svg.current?.getScreenCTM()?.inverse().a ?? 1;
  const look = (view: View) => {
    now.current = { ...now.current, view };
    now.current.onView(view);
  };

  const down = (event: PointerEvent) => {
    svg.current?.setPointerCapture?.(event.pointerId);
    const on = { x: event.clientX, y: event.clientY };
    fingers.current.set(event.pointerId, on);
    if (fingers.current.size > 1) {
      if (acting.current) now.current.touch?.cancel();
      acting.current = undefined;
      return;
    }
    acting.current = { id: event.pointerId, last: spotOf(on) };
    now.current.touch?.down(acting.current.last, perScreenPx());
  };
  const move = (event: PointerEvent) => {
    const before = fingers.current.get(event.pointerId);
    if (!before) return;
    const on = { x: event.clientX, y: event.clientY };
    fingers.current.set(event.pointerId, on);
    const other = [...fingers.current].find(([id]) => id !== event.pointerId)?.[1];
    if (other) return pinch(before, on, other);
    if (acting.current?.id !== event.pointerId) return;
    const at = spotOf(on);
    const by = { x: at.x - acting.current.last.x, y: at.y - acting.current.last.y };
    if (!now.current.touch) return look(moved(now.current.view, by, now.current.size));
    acting.current.last = at;
    now.current.touch.move(at, by, perScreenPx());
  };
  /** One of two fingers went from `before` to `after`, the other one rests. */
  const pinch = (before: Spot, after: Spot, other: Spot) => {
    const { view, size } = now.current;
    const gap = (a: Spot): number => Math.max(GAP_LEAST, Math.hypot(a.x - other.x, a.y - other.y));
    const from = spotOf({ x: (before.x + other.x) / 2, y: (before.y + other.y) / 2 });
    const to = spotOf({ x: (after.x + other.x) / 2, y: (after.y + other.y) / 2 });
    const shifted = moved(view, { x: to.x - from.x, y: to.y - from.y }, size);
    look(zoomed(shifted, gap(after) / gap(before), from, size));
  };
  const up = (event: PointerEvent) => {
    fingers.current.delete(event.pointerId);
    if (acting.current?.id !== event.pointerId) return;
    acting.current = undefined;
    now.current.touch?.up();
  };

  // The page must not scroll or zoom under the finger; listeners set by the framework are passive in some browsers.
  useEffect(() => {
    const element = svg.current;
    const hold = (event: Event) => event.preventDefault();
    const wheel = (event: WheelEvent) => {
      event.preventDefault();
      const at = spotOf({ x: event.clientX, y: event.clientY });
      look(zoomed(now.current.view, event.deltaY < 0 ? WHEEL_STEP : 1 / WHEEL_STEP, at, now.current.size));
    };
    element?.addEventListener('touchmove', hold, { passive: false });
    element?.addEventListener('wheel', wheel, { passive: false });
    return () => {
      element?.removeEventListener('touchmove', hold);
      element?.removeEventListener('wheel', wheel);
    };
  }, []);

  return { onPointerDown: down, onPointerMove: move, onPointerUp: up, onPointerCancel: up };
}
