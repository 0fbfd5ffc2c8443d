import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Point, Quad } from '../../app/care/healing/homography.ts';
import { areaThrough, type Scale, scaleFaults, scaleFrom, shapeMisfit } from '../../app/care/healing/image-scale.ts';
import { polygonArea } from '../../app/care/healing/outline.ts';
import { type Locator, wasmLocator } from '../../app/exchange/qr.ts';
import { drawCode, QUIET_MODULES } from '../../app/exchange/qr-write.ts';
import { snapCard } from '../../app/exchange/scale/card-edges.ts';
import { findScaleCode } from '../../app/exchange/scale/find-code.ts';
import { printedScale } from '../../app/exchange/scale/printed-scale.ts';
import { readScaleText, SCALE_SIDE_MM, scaleCodeText } from '../../app/exchange/scale/scale-text.ts';
import { ellipse } from '../care/healing/shapes.ts';
import { type Pixels, photograph } from './picture.ts';
import { cardSheet, codeSheet, onSheet, PLAIN, photographScene, projector, type Scene } from './scene.ts';

let locate: Locator;
beforeAll(async () => {
  const file = readFileSync(new URL('../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url));
  locate = await wasmLocator({ bytes: new Uint8Array(file).buffer });
});

/** Node has no ImageData; the decoder asks for its fields only. */
const asPixels = (pixels: Pixels): ImageData => ({ ...pixels, colorSpace: 'srgb' }) as unknown as ImageData;
const find = (pixels: Pixels, photo = { widthPx: pixels.width, heightPx: pixels.height }) =>
  findScaleCode(asPixels(pixels), photo, () => Promise.resolve(locate));

const WOUND = ellipse(10, 7, [12, 0], 90);
const AREA = polygonArea(WOUND);

async function found(scene: Scene): Promise<{ scale: Scale; corners: Quad }> {
  const search = await find(photographScene(scene));
  if (!search.ok) throw new Error(search.why);
  const { corners, mark, fit } = search.found;
  const scale = scaleFrom(corners, mark, scene, fit);
  if (!scale) throw new Error('no scale');
  return { scale, corners };
}

/** By how much the area of a wound beside the scale is off, as a share. */
const areaError = (scene: Scene, scale: Scale): number =>
  areaThrough(
    scale,
    WOUND.map((p) => projector(scene)(p)),
  ).areaMm2 /
    AREA -
  1;

const trueCorners = (scene: Scene): Point[] => {
  const half = SCALE_SIDE_MM / 2;
  return [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ].map(([x, y]) => onSheet(scene)(x as number, y as number));
};
const farthest = (a: readonly Point[], b: readonly Point[]): number =>
  Math.max(...a.map(([x, y], i) => Math.hypot(x - (b[i] as Point)[0], y - (b[i] as Point)[1])));

describe('the text of a scale code', () => {
  test('gives its side back, whole or not', () => {
    for (const side of [20, 40, 37.5, 100]) expect(readScaleText(scaleCodeText(side))).toBe(side);
    expect(readScaleText('tendbook-scale:1:40')).toBe(40);
  });

  test.each([
    '',
    'https://example.org',
    'tendbook-scale:2:40',
    'tendbook-scale:1:',
    'tendbook-scale:1:4',
    'tendbook-scale:1:400',
    'tendbook-scale:1:-40',
    'tendbook-scale:1:40mm',
    'x tendbook-scale:1:40',
  ])('of another kind gives none: %s', (text) => {
    expect(readScaleText(text)).toBeUndefined();
  });

  test('makes a code of 41 modules, and the picture on paper is as wide as makes its dark square 40 mm', () => {
    const { code, sideMm, pictureMm } = printedScale();
    expect([code.version, code.size, sideMm]).toEqual([6, 41, 40]);
    expect((pictureMm * code.size) / (code.size + 2 * QUIET_MODULES)).toBeCloseTo(40, 10);
  });
});

describe('the scale code in a photo is placed to a small part of a pixel', () => {
  test.each<[string, Partial<Scene>]>([
    ['from straight above', {}],
    ['from the side', { tiltDeg: 40, tiltTo: 30 }],
    ['from the other side, turned', { tiltDeg: 35, tiltTo: 250, rollDeg: 130 }],
    ['upside down, in poor light', { rollDeg: 180, noise: 12, fall: 90 }],
    ['a little out of focus', { blurPx: 1.5 }],
    ['from farther off', { distanceMm: 150 }],
  ])('%s', async (_name, over) => {
    const scene = { ...PLAIN, ...over };
    const { scale, corners } = await found(scene);
    // The decoder's own corners are whole pixels, off by up to one and a half.
    expect(farthest(corners, trueCorners(scene))).toBeLessThan(0.1);
    expect(Math.abs(areaError(scene, scale))).toBeLessThan(0.004);
    expect(scaleFaults(scale)).toEqual([]);
    expect(Math.abs(scale.tiltDeg - scene.tiltDeg)).toBeLessThan(scene.tiltDeg > 10 ? 0.5 : 3);
  });

  test('also where the ink has run, which makes outer edges lie', async () => {
    const scene: Scene = { ...PLAIN, tiltDeg: 15, sheet: codeSheet({ at: [-28, 0], turnDeg: 20 }, 0.15) };
    const { scale, corners } = await found(scene);
    expect(farthest(corners, trueCorners(scene))).toBeLessThan(0.1);
    expect(Math.abs(areaError(scene, scale))).toBeLessThan(0.004);
  });

  test('in the pixels of the photo that is kept, when it is looked for in more of them', async () => {
    const scene: Scene = { ...PLAIN, tiltDeg: 20 };
    const half = await find(photographScene(scene), { widthPx: scene.widthPx / 2, heightPx: scene.heightPx / 2 });
    if (!half.ok) throw new Error(half.why);
    expect(
      farthest(
        half.found.corners.map(([x, y]): Point => [2 * x, 2 * y]),
        trueCorners(scene),
      ),
    ).toBeLessThan(0.1);
  });

  test('of two codes in one photo the other kind does not count', async () => {
    expect(await find(photograph(drawCode('https://example.org/menu')))).toEqual({ ok: false, why: 'otherCode' });
    expect(await find(photograph({ size: 21, dark: () => false }))).toEqual({ ok: false, why: 'noCode' });
  });

  test('a decoder that cannot be loaded is said to be the reason', async () => {
    expect(
      await findScaleCode(asPixels(photograph(drawCode('x'))), { widthPx: 10, heightPx: 10 }, () => Promise.reject(new Error('offline'))),
    ).toEqual({ ok: false, why: 'decoder' });
  });
});

describe('what cannot give a true size is refused', () => {
  const faultsOf = async (over: Partial<Scene>): Promise<readonly string[]> => {
    const search = await find(photographScene({ ...PLAIN, ...over }));
    if (!search.ok) return [search.why];
    const scale = scaleFrom(search.found.corners, search.found.mark, { ...PLAIN, ...over }, search.found.fit);
    return scale ? scaleFaults(scale) : ['none'];
  };

  test('a look from 55 and 60° to the side', async () => {
    expect(await faultsOf({ tiltDeg: 55, tiltTo: 60, distanceMm: 100 })).toContain('tooOblique');
    expect(await faultsOf({ tiltDeg: 60, tiltTo: 180, distanceMm: 100 })).toContain('tooOblique');
  });

  test('a sheet that is arched or whose ends stand up', async () => {
    for (const archMm of [1.5, -1.5]) {
      expect(await faultsOf({ tiltDeg: 12, tiltTo: 30, sheet: codeSheet({ at: [-28, 0], archMm }) })).toContain('outOfPlane');
    }
    expect(await faultsOf({ sheet: codeSheet({ at: [-28, 0], archMm: 2 }) })).toContain('outOfPlane');
  });

  test('a soft photo: the code is refused, or cannot be read', async () => {
    expect(await faultsOf({ blurPx: 2.4 })).toEqual(['blurred']);
    expect(await faultsOf({ blurPx: 6 })).toEqual(['noCode']);
  });

  test('a code of few pixels, and of next to none', async () => {
    expect(await faultsOf({ distanceMm: 175 })).toContain('tooSmall');
    expect(await faultsOf({ distanceMm: 600 })).toEqual(['noCode']);
  });

  test('a code of which a corner is cut off cannot be read', async () => {
    const sheet = codeSheet({ at: [-28, 0], turnDeg: 45 });
    expect(await faultsOf({ sheet, aim: [-28, -8], widthPx: 400, heightPx: 400 })).toEqual([]);
    expect(await faultsOf({ sheet, aim: [-28, -11.5], widthPx: 400, heightPx: 400 })).toEqual(['noCode']);
  });
});

describe('a card tapped by hand', () => {
  const half: Point = [85.6 / 2, 53.98 / 2];
  const cornersOf = (scene: Scene): Point[] =>
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ].map(([x, y]) => onSheet(scene)((x as number) * half[0], (y as number) * half[1]));
  const astray = (corners: readonly Point[], px: number): Quad =>
    corners.map(([x, y], i): Point => [x + px * Math.cos(2.3 * i), y + px * Math.sin(2.3 * i)]) as unknown as Quad;
  const scene = (over: Partial<Scene>): Scene => ({
    ...PLAIN,
    widthPx: 1400,
    heightPx: 1000,
    focalPx: 1050,
    distanceMm: 170,
    aim: [-30, 0],
    ...over,
  });

  test.each<[string, Partial<Scene>]>([
    ['light, from straight above', { sheet: cardSheet({ at: [-60, 0], turnDeg: 7 }) }],
    ['dark, from the side', { sheet: cardSheet({ at: [-60, 0], turnDeg: 100 }, 60), tiltDeg: 35, tiltTo: 20 }],
    ['hardly darker than the skin, with noise', { sheet: cardSheet({ at: [-60, 0], turnDeg: 45 }, 145), noise: 5, tiltDeg: 15 }],
  ])('%s: its corners go to where its edges cross, though they are round and were tapped 3 px off', (_name, over) => {
    const at = scene(over);
    const taps = astray(cornersOf(at), 3);
    const snap = snapCard(taps, photographScene(at), at);
    expect(snap.snapped).toBe(true);
    const scale = scaleFrom(snap.corners, { kind: 'card' }, at, snap.fit) as Scale;
    expect(Math.abs(areaError(at, scale))).toBeLessThan(0.01);
    expect(shapeMisfit(scale)).toBeLessThan(0.01);
    expect(scaleFaults(scale)).toEqual([]);
  });

  test('a soft photo of it is refused', () => {
    const at = scene({ sheet: cardSheet({ at: [-60, 0] }), blurPx: 3.2 });
    const snap = snapCard(astray(cornersOf(at), 2), photographScene(at), at);
    expect(scaleFaults(scaleFrom(snap.corners, { kind: 'card' }, at, snap.fit) as Scale)).toContain('blurred');
  });

  test('taps where no edges are stay as they were, with the error of taps', () => {
    const at = scene({ sheet: cardSheet({ at: [-60, 0] }) });
    const nowhere: Quad = [
      [900, 100],
      [1300, 110],
      [1310, 380],
      [890, 370],
    ];
    const snap = snapCard(nowhere, photographScene(at), at);
    expect(snap).toEqual({ corners: nowhere, fit: { cornerErrorPx: 2 }, snapped: false });
  });
});
