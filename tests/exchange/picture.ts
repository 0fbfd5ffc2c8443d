import { type Code, QUIET_MODULES } from '../../app/exchange/qr-write.ts';

/** Pixels as a canvas gives them, four bytes each. */
export interface Pixels {
  width: number;
  height: number;
  data: Uint8ClampedArray;
}

type Point = readonly [number, number];

/** The code as a photo may show it; everything in plain code on a buffer of pixels. */
export interface Shot {
  /** Pixels of a module before the tilt. */
  scale?: number;
  /** How far the four corners move, as a share of the side; the order is top left, top right, bottom right, bottom left. */
  tilt?: readonly [Point, Point, Point, Point];
  /** Turn, degrees. */
  turn?: number;
  /** Standard deviation of the blur, pixels. */
  blur?: number;
  /** Grey levels by which light falls off from left to right. */
  shade?: number;
  /** Standard deviation of the noise, grey levels. */
  noise?: number;
}

/** Solves `a · x = b` by elimination with pivots. */
function solve(a: number[][], b: number[]): number[] {
  const rows = a.map((row, i) => [...row, b[i] as number]);
  const n = rows.length;
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r]?.[c] as number) > Math.abs(rows[best]?.[c] as number)) best = r;
    [rows[c], rows[best]] = [rows[best] as number[], rows[c] as number[]];
    const pivot = rows[c] as number[];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const row = rows[r] as number[];
      const factor = (row[c] as number) / (pivot[c] as number);
      for (let k = c; k <= n; k++) row[k] = (row[k] as number) - factor * (pivot[k] as number);
    }
  }
  return rows.map((row, i) => (row[n] as number) / (row[i] as number));
}

/** The perspective map that takes each `from` to its `to`. */
function perspective(from: readonly Point[], to: readonly Point[]): (p: Point) => Point {
  const a: number[][] = [];
  const b: number[] = [];
  from.forEach(([x, y], i) => {
    const [u, v] = to[i] as Point;
    a.push([x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]);
    b.push(u, v);
  });
  const [p, q, r, s, t, w, g, h] = solve(a, b) as [number, number, number, number, number, number, number, number];
  return ([x, y]) => {
    const d = g * x + h * y + 1;
    return [(p * x + q * y + r) / d, (s * x + t * y + w) / d];
  };
}

/** A bell curve, cut off at three deviations. */
function kernel(sigma: number): number[] {
  const reach = Math.ceil(3 * sigma);
  const raw = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma ** 2)));
  const sum = raw.reduce((x, y) => x + y, 0);
  return raw.map((v) => v / sum);
}

function blurred(grey: Float64Array, width: number, height: number, sigma: number): Float64Array {
  const weights = kernel(sigma);
  const reach = (weights.length - 1) / 2;
  const along = (own: Float64Array, dx: number, dy: number): Float64Array => {
    const out = new Float64Array(own.length);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let sum = 0;
        for (let k = -reach; k <= reach; k++) {
          const px = Math.min(Math.max(x + k * dx, 0), width - 1);
          const py = Math.min(Math.max(y + k * dy, 0), height - 1);
          sum += (own[py * width + px] as number) * (weights[k + reach] as number);
        }
        out[y * width + x] = sum;
      }
    }
    return out;
  };
  return along(along(grey, 1, 0), 0, 1);
}

/** Takes a picture of a code. The same shot gives the same picture every time. */
export function photograph(code: Pick<Code, 'size' | 'dark'>, shot: Shot = {}): Pixels {
  const { scale = 4, turn = 0, blur = 0, shade = 0, noise = 0 } = shot;
  const tilt = shot.tilt ?? [
    [0, 0],
    [0, 0],
    [0, 0],
    [0, 0],
  ];
  const modules = code.size + 2 * QUIET_MODULES;
  const side = modules * scale;
  const edge = Math.ceil(side * 0.25);
  const width = side + 2 * edge;
  const corners: Point[] = [
    [0, 0],
    [modules, 0],
    [modules, modules],
    [0, modules],
  ];
  const angle = (turn * Math.PI) / 180;
  const places = corners.map(([x, y], i): Point => {
    const [dx, dy] = tilt[i] as Point;
    const [u, v] = [x * scale + dx * side - side / 2, y * scale + dy * side - side / 2];
    return [u * Math.cos(angle) - v * Math.sin(angle) + width / 2, u * Math.sin(angle) + v * Math.cos(angle) + width / 2];
  });
  const back = perspective(places, corners);
  const grey = new Float64Array(width * width);
  const PARTS = 2;
  for (let y = 0; y < width; y++) {
    for (let x = 0; x < width; x++) {
      let light = 0;
      for (let i = 0; i < PARTS * PARTS; i++) {
        const [mx, my] = back([x + ((i % PARTS) + 0.5) / PARTS, y + (Math.floor(i / PARTS) + 0.5) / PARTS]);
        const [cx, cy] = [Math.floor(mx) - QUIET_MODULES, Math.floor(my) - QUIET_MODULES];
        const inside = cx >= 0 && cy >= 0 && cx < code.size && cy < code.size;
        light += inside && code.dark(cx, cy) ? 30 : 235;
      }
      grey[y * width + x] = light / (PARTS * PARTS);
    }
  }
  const soft = blur > 0 ? blurred(grey, width, width, blur) : grey;
  let state = 1;
  const chance = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const data = new Uint8ClampedArray(width * width * 4);
  for (let i = 0; i < width * width; i++) {
    // Three even throws come near enough to a bell curve of deviation one half.
    const grain = noise * 2 * (chance() + chance() + chance() - 1.5);
    const value = (soft[i] as number) - (shade * (i % width)) / width + grain;
    data.set([value, value, value, 255], i * 4);
  }
  return { width, height: width, data };
}

/** A steep look from below and the left. */
export const TILTED: Shot = {
  tilt: [
    [0.06, 0.02],
    [-0.02, 0.08],
    [0, 0],
    [0.03, -0.05],
  ],
  turn: 12,
  blur: 1,
  shade: 60,
  noise: 6,
};
/** As a hand holds a phone that is nearly level. */
export const LITTLE_TILTED: Shot = {
  scale: 8,
  tilt: [
    [0.02, 0.01],
    [-0.01, 0.02],
    [0, 0],
    [0.01, -0.01],
  ],
  blur: 1.5,
  shade: 40,
};
export const SHOTS: Readonly<Record<string, Shot>> = {
  'held straight': {},
  'held straight, small': { scale: 3 },
  'turned by 90 degrees': { turn: 90 },
  'out of focus': { blur: 1.6 },
  tilted: { tilt: TILTED.tilt as NonNullable<Shot['tilt']> },
  'tilted, turned, out of focus, in a shadow, with noise': TILTED,
};
