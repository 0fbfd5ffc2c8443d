import { PNG } from 'pngjs';
import { drawCode } from '../../app/exchange/qr-write.ts';
import { SCALE_SIDE_MM, scaleCodeText } from '../../app/exchange/scale/scale-text.ts';

const CODE = drawCode(scaleCodeText(SCALE_SIDE_MM));

/** A made-up wound of known size beside the printed scale, seen straight from above; mm from the top left corner. */
export interface Scene {
  widthMm: number;
  heightMm: number;
  pxPerMm: number;
  wound: { x: number; y: number; lengthMm: number; widthMm: number };
  scale?: { x: number; y: number } | undefined;
  card?: { x: number; y: number } | undefined;
}

export const SCENE: Scene = {
  widthMm: 160,
  heightMm: 120,
  pxPerMm: 12,
  wound: { x: 110, y: 62, lengthMm: 30, widthMm: 20 },
  scale: { x: 24, y: 40 },
};

export const CARD_SCENE: Scene = {
  widthMm: 200,
  heightMm: 150,
  pxPerMm: 9,
  wound: { x: 150, y: 80, lengthMm: 24, widthMm: 16 },
  card: { x: 20, y: 46 },
};

/** True area of the wound in a scene, mm². */
export const areaOf = ({ wound }: Scene): number => (wound.lengthMm * wound.widthMm * Math.PI) / 4;

/** Places round the wound's edge, px of the photo. */
export const edgeOf = ({ wound, pxPerMm }: Scene, count = 60): [number, number][] =>
  Array.from({ length: count }, (_, i) => {
    const turn = (2 * Math.PI * i) / count;
    return [(wound.x + (wound.lengthMm / 2) * Math.cos(turn)) * pxPerMm, (wound.y + (wound.widthMm / 2) * Math.sin(turn)) * pxPerMm];
  });

type Colour = readonly [number, number, number];
const CARD_MM = [85.6, 53.98] as const;

/** What is at a place of a scene: skin, wound, the code on its paper, or a card. */
function colourAt({ wound, scale, card }: Scene, x: number, y: number, grain: number): Colour {
  const [inCardX, inCardY] = [x - (card?.x ?? Number.NaN), y - (card?.y ?? Number.NaN)];
  if (inCardX >= 0 && inCardY >= 0 && inCardX < CARD_MM[0] && inCardY < CARD_MM[1]) return [60, 110, 150];
  const module = SCALE_SIDE_MM / CODE.size;
  const [mx, my] = [Math.floor((x - (scale?.x ?? Number.NaN)) / module), Math.floor((y - (scale?.y ?? Number.NaN)) / module)];
  const inside = (n: number, room: number): boolean => n >= -room && n < CODE.size + room;
  if (inside(mx, 0) && inside(my, 0) && CODE.dark(mx, my)) return [25, 25, 25];
  if (inside(mx, 4) && inside(my, 4)) return [244, 244, 240];
  const isWound = Math.hypot((x - wound.x) / (wound.lengthMm / 2), (y - wound.y) / (wound.widthMm / 2)) < 1;
  return isWound ? [150 + grain, 40 + grain, 44 + grain] : [196 + grain, 158 + grain, 132 + grain];
}

export function woundPhoto(scene: Scene = SCENE) {
  const { pxPerMm } = scene;
  const [width, height] = [scene.widthMm * pxPerMm, scene.heightMm * pxPerMm];
  const png = new PNG({ width, height });
  for (let py = 0; py < height; py++) {
    for (let px = 0; px < width; px++) {
      const grain = ((px * 7919 + py * 104729) % 13) - 6;
      png.data.set([...colourAt(scene, (px + 0.5) / pxPerMm, (py + 0.5) / pxPerMm, grain), 255], (py * width + px) * 4);
    }
  }
  return { name: 'wound.png', mimeType: 'image/png', buffer: PNG.sync.write(png) };
}
