import type { Point } from '../../app/care/healing/homography.ts';
import { scaleFaults, scaleFrom } from '../../app/care/healing/image-scale.ts';
import { tidyOutline } from '../../app/care/healing/outline.ts';
import { measureOutline } from '../../app/care/healing/traced.ts';
import { shrinkPhoto } from '../../app/exchange/photo-shrink.ts';
import { findScaleCode } from '../../app/exchange/scale/find-code.ts';
import { printedScale } from '../../app/exchange/scale/printed-scale.ts';

/**
 * A page for tests: it shows skin with a wound and the scale code, turned in
 * space by the browser itself, and reads a photo of that with the app's own
 * parts. Where a place ends up in the photo is the browser's own arithmetic.
 */

export interface View {
  tiltDeg: number;
  /** Direction of the axis that it is tilted about. */
  axisDeg: number;
  rollDeg: number;
  /** px on the screen for a millimetre before the tilt. */
  pxPerMm: number;
  /** Moves all, mm. */
  shift?: Point;
  /** Each half of the code's sheet stands up from the fold in its middle by so many degrees. */
  creaseDeg?: number;
}

export interface Take {
  blurPx: number;
  noise: number;
  /** Share of the light that is left at the right. */
  fall: number;
  seed: number;
}

/** Distance of the eye from the screen, px: that of a phone's camera for a screen of 1000 px. */
const EYE_PX = 750;
/** Where the middle of the code lies, mm from the middle of the view; the wound is to its right. */
const CODE_AT: Point = [-32, 0];
const SHEET_MM = printedScale().pictureMm;

const spaceOf = ({ tiltDeg, axisDeg, rollDeg }: View): string => {
  const axis = (axisDeg * Math.PI) / 180;
  return `rotate3d(${Math.cos(axis)}, ${Math.sin(axis)}, 0, ${tiltDeg}deg) rotate(${rollDeg}deg)`;
};

const SVG = 'http://www.w3.org/2000/svg';
function svg(name: string, attributes: Record<string, string | number>, ...children: Element[]): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...children);
  return element;
}

/** The code's sheet, or the part of it from one share of its width to another. */
function sheetPart(pxPerMm: number, [from, to]: readonly [number, number], turn: string): SVGElement {
  const { code, path } = printedScale();
  const side = code.size + 8;
  const part = svg(
    'svg',
    {
      viewBox: `${-4 + from * side} -4 ${(to - from) * side} ${side}`,
      width: SHEET_MM * (to - from) * pxPerMm,
      height: SHEET_MM * pxPerMm,
    },
    svg('rect', { x: -4, y: -4, width: side, height: side, fill: '#f2f0ea' }),
    svg('path', { d: path, fill: '#181818' }),
  );
  part.style.cssText = `position:absolute;top:0;left:${from * SHEET_MM * pxPerMm}px;transform:${turn};transform-origin:${from > 0 ? 'left' : 'right'} center`;
  return part;
}

/** Shows a wound and the code. */
function show(wound: readonly Point[], view: View): void {
  const { pxPerMm, shift = [0, 0], creaseDeg = 0 } = view;
  const skin = document.createElement('div');
  // Larger than the view from any side.
  const half = 4000;
  skin.style.cssText = `position:absolute;width:${2 * half}px;height:${2 * half}px;left:${innerWidth / 2 - half}px;top:${innerHeight / 2 - half}px;background:#c9a48c;transform-style:preserve-3d;transform:${spaceOf(view)}`;
  const at = ([x, y]: Point): string => `left:${half + (x + shift[0]) * pxPerMm}px;top:${half + (y + shift[1]) * pxPerMm}px`;
  const edge = wound.map(([x, y]) => `${x * pxPerMm},${y * pxPerMm}`).join(' ');
  const flesh = svg('svg', { width: 1, height: 1, overflow: 'visible' }, svg('polygon', { points: edge, fill: '#8a3030' }));
  flesh.style.cssText = `position:absolute;${at([0, 0])}`;
  const sheet = document.createElement('div');
  sheet.style.cssText = `position:absolute;transform-style:preserve-3d;${at([CODE_AT[0] - SHEET_MM / 2, CODE_AT[1] - SHEET_MM / 2])}`;
  const parts: readonly (readonly [readonly [number, number], string])[] = creaseDeg
    ? [
        [[0, 0.5], `rotateY(${creaseDeg}deg)`],
        [[0.5, 1], `rotateY(${-creaseDeg}deg)`],
      ]
    : [[[0, 1], 'none']];
  sheet.append(...parts.map(([share, turn]) => sheetPart(pxPerMm, share, turn)));
  skin.append(flesh, sheet);
  const stage = document.createElement('div');
  stage.style.cssText = `position:fixed;inset:0;overflow:hidden;background:#c9a48c;perspective:${EYE_PX}px`;
  stage.append(skin);
  document.body.replaceChildren(stage);
}

/** Where places of the skin, mm, are in a screenshot, px, by the browser's own matrices. */
function seen(places: readonly Point[], view: View): Point[] {
  const { pxPerMm, shift = [0, 0] } = view;
  const matrix = new DOMMatrix(`perspective(${EYE_PX}px) ${spaceOf(view)}`);
  return places.map(([x, y]) => {
    const p = new DOMPoint((x + shift[0]) * pxPerMm, (y + shift[1]) * pxPerMm).matrixTransform(matrix);
    return [(innerWidth / 2 + p.x / p.w) * devicePixelRatio, (innerHeight / 2 + p.y / p.w) * devicePixelRatio];
  });
}

/** Even chances from a seed. */
function chances(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 1) / (2 ** 32 + 1);
  };
}
const bell = (chance: () => number): number => Math.sqrt(-2 * Math.log(chance())) * Math.cos(2 * Math.PI * chance());

/** A JPEG as a phone might take it of what the screenshot shows: out of focus, uneven light, grain. */
async function photo(screenshot: string, { blurPx, noise, fall, seed }: Take): Promise<Blob> {
  const bitmap = await createImageBitmap(await (await fetch(`data:image/png;base64,${screenshot}`)).blob());
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) throw new Error('no canvas');
  context.filter = `blur(${blurPx}px)`;
  context.drawImage(bitmap, 0, 0);
  context.filter = 'none';
  const light = context.createLinearGradient(0, 0, bitmap.width, bitmap.height / 3);
  light.addColorStop(0, '#fff');
  light.addColorStop(1, `rgb(${255 * fall} ${255 * fall} ${255 * fall})`);
  context.globalCompositeOperation = 'multiply';
  context.fillStyle = light;
  context.fillRect(0, 0, bitmap.width, bitmap.height);
  const pixels = context.getImageData(0, 0, bitmap.width, bitmap.height);
  const chance = chances(seed);
  for (let i = 0; i < pixels.data.length; i += 4) {
    const grain = noise * 2 * (chance() + chance() + chance() - 1.5);
    for (let k = 0; k < 3; k++) pixels.data[i + k] = (pixels.data[i + k] as number) + grain;
  }
  context.putImageData(pixels, 0, 0);
  return canvas.convertToBlob({ type: 'image/jpeg', quality: 0.9 });
}

export interface Reading {
  faults: readonly string[];
  areaMm2?: number;
  lengthMm?: number;
  errorShare?: number;
}

/** From the screenshot to mm: shrinks the photo, finds the code, and measures the outline drawn with an unsteady hand. */
async function read(screenshot: string, wound: readonly Point[], view: View, take: Take, handPx: number): Promise<Reading> {
  const shrunk = await shrinkPhoto(await photo(screenshot, take));
  if (!shrunk.ok) return { faults: [shrunk.why] };
  const { pixels, widthPx, heightPx } = shrunk.photo;
  const search = await findScaleCode(pixels, { widthPx, heightPx });
  if (!search.ok) return { faults: [search.why] };
  const { corners, mark, fit } = search.found;
  const scale = scaleFrom(corners, mark, { widthPx, heightPx }, fit);
  if (!scale) return { faults: ['noScale'] };
  const faults = scaleFaults(scale);
  if (faults.length > 0) return { faults };
  const chance = chances(take.seed);
  const share = widthPx / (innerWidth * devicePixelRatio);
  const stroke = seen(wound, view).map(([x, y]): Point => [x * share + handPx * bell(chance), y * share + handPx * bell(chance)]);
  const measured = measureOutline(tidyOutline(stroke), scale);
  if (!measured.ok) return { faults: measured.faults };
  const { areaMm2, lengthMm, errorShare } = measured.traced;
  return { faults: [], areaMm2, lengthMm, errorShare };
}

const tools = { show, photo, read, shrinkPhoto, findScaleCode };

declare global {
  var scaleTest: ScaleTest;
}
export type ScaleTest = typeof tools;
globalThis.scaleTest = tools;
