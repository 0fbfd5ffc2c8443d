import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';
import { guessWidth, type WidthOf } from './ticks.ts';

export interface Frame {
  widthPx: number;
  emPx: number;
  /** The faces of the page's text, as style sheets name them. */
  face: string;
  rightToLeft: boolean;
}

/** Where nothing can be measured, a small phone. */
const UNMEASURED: Frame = { widthPx: 320, emPx: 20, face: 'sans-serif', rightToLeft: false };

function measure(box: HTMLElement): Frame {
  const style = getComputedStyle(box);
  return {
    widthPx: box.clientWidth || UNMEASURED.widthPx,
    emPx: Number.parseFloat(style.fontSize) || UNMEASURED.emPx,
    face: style.fontFamily || UNMEASURED.face,
    rightToLeft: style.direction === 'rtl',
  };
}

/** Measures texts in a face, where the platform can; otherwise guesses. */
export function widthIn(face: string): WidthOf {
  const pen = document.createElement('canvas').getContext('2d');
  if (!pen) return guessWidth;
  return (text, sizePx, isBold = false) => {
    pen.font = `${isBold ? 600 : 400} ${sizePx}px ${face}`;
    return pen.measureText(text).width;
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
        const isSame = (Object.keys(next) as (keyof Frame)[]).every((key) => next[key] === old[key]);
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
