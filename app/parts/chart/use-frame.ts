import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';

export interface Frame {
  widthPx: number;
  emPx: number;
  rightToLeft: boolean;
}

/** Where nothing can be measured, a small phone. */
const UNMEASURED: Frame = { widthPx: 320, emPx: 20, rightToLeft: false };

function measure(box: HTMLElement): Frame {
  const style = getComputedStyle(box);
  return {
    widthPx: box.clientWidth || UNMEASURED.widthPx,
    emPx: Number.parseFloat(style.fontSize) || UNMEASURED.emPx,
    rightToLeft: style.direction === 'rtl',
  };
}

/**
 * The room an element has, its size of text and its direction; measured before
 * the first paint and whenever the element or what it held at first changes its
 * size: larger text alone does not make the element wider.
 */
export function useFrame(box: RefObject<HTMLElement | null>): Frame {
  const [frame, setFrame] = useState(UNMEASURED);
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    const look = () =>
      setFrame((old) => {
        const next = measure(element);
        const isSame = next.widthPx === old.widthPx && next.emPx === old.emPx && next.rightToLeft === old.rightToLeft;
        return isSame ? old : next;
      });
    look();
    if (typeof ResizeObserver === 'undefined') return;
    const observer = new ResizeObserver(look);
    observer.observe(element);
    for (const inner of element.children) observer.observe(inner);
    return () => observer.disconnect();
  }, [box]);
  return frame;
}
