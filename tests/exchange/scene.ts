import type { Point } from '../../app/care/healing/homography.ts';
import { printedScale } from '../../app/exchange/scale/scale-text.ts';
import type { Pixels } from './picture.ts';

/**
 * Photos of a wound with the scale code beside it, made by following each line
 * of sight from a pinhole camera to the sheet: nothing of the app's geometry is
 * used. All in mm on the skin's plane; the code's sheet may be bent or lifted.
 */
export interface Scene {
  widthPx: number;
  heightPx: number;
  /** Focal length in px; a phone's main camera has about 0.75 of the longer side. */
  focalPx: number;
  distanceMm: number;
  /** Where the camera looks. */
  aim: Point;
  /** How far the camera is from straight above, and to which side. */
  tiltDeg: number;
  tiltTo: number;
  rollDeg: number;
  /** The code: middle of its square, turn, height above the skin, and the height of its arch over its own side. */
  code: { at: Point; turnDeg: number; liftMm?: number; archMm?: number; swollenMm?: number };
  /** The wound's edge. */
  wound: readonly Point[];
  blurPx: number;
  noise: number;
  shade: number;
  seed: number;
}

export const PLAIN: Scene = {
  widthPx: 1200,
  heightPx: 900,
  focalPx: 900,
  distanceMm: 130,
  aim: [0, 0],
  tiltDeg: 0,
  tiltTo: 0,
  rollDeg: 0,
  code: { at: [-28, 0], turnDeg: 0 },
  wound: [],
  blurPx: 0.7,
  noise: 3,
  shade: 25,
  seed: 1,
};

type Vector = readonly [number, number, number];

/** Where the camera stands and how it is turned: eye, and the directions right, down and ahead. */
function cameraOf({ distanceMm, aim, tiltDeg, tiltTo, rollDeg }: Scene) {
  const [tilt, to, roll] = [tiltDeg, tiltTo, rollDeg].map((d) => (d * Math.PI) / 180) as [number, number, number];
  const back: Vector = [Math.sin(tilt) * Math.cos(to), Math.sin(tilt) * Math.sin(to), Math.cos(tilt)];
  const eye: Vector = [aim[0] + distanceMm * back[0], aim[1] + distanceMm * back[1], distanceMm * back[2]];
  const ahead: Vector = [-back[0], -back[1], -back[2]];
  // Straight above, right is x and down is y (y grows downwards on the sheet, z towards the camera).
  const plainRight: Vector = [
    Math.cos(to) ** 2 * Math.cos(tilt) + Math.sin(to) ** 2,
    Math.cos(to) * Math.sin(to) * (Math.cos(tilt) - 1),
    -Math.sin(tilt) * Math.cos(to),
  ];
  const plainDown: Vector = [
    Math.cos(to) * Math.sin(to) * (Math.cos(tilt) - 1),
    Math.sin(to) ** 2 * Math.cos(tilt) + Math.cos(to) ** 2,
    -Math.sin(tilt) * Math.sin(to),
  ];
  const mix = (a: number, b: number): Vector =>
    [0, 1, 2].map((i) => a * (plainRight[i] as number) + b * (plainDown[i] as number)) as unknown as Vector;
  return { eye, ahead, right: mix(Math.cos(roll), Math.sin(roll)), down: mix(-Math.sin(roll), Math.cos(roll)) };
}

/** Where a place of the skin, or above it, is seen. */
export function projector(scene: Scene): (p: Point, heightMm?: number) => Point {
  const { eye, ahead, right, down } = cameraOf(scene);
  return ([x, y], height = 0) => {
    const d: Vector = [x - eye[0], y - eye[1], height - eye[2]];
    const along = (v: Vector): number => v[0] * d[0] + v[1] * d[1] + v[2] * d[2];
    return [
      scene.widthPx / 2 + (scene.focalPx * along(right)) / along(ahead),
      scene.heightPx / 2 + (scene.focalPx * along(down)) / along(ahead),
    ];
  };
}

/** The height of an arch of so much over a side, and how far along its surface a place lies. */
function arch(archMm: number, side: number) {
  const a = archMm / (side / 2) ** 2;
  return {
    height: (x: number): number => archMm - a * x * x,
    along: (x: number): number => (a === 0 ? x : (x / 2) * Math.sqrt(1 + (2 * a * x) ** 2) + Math.asinh(2 * a * x) / (4 * a)),
  };
}

const SKIN = 165;
const WOUND = 95;
const PAPER = 235;
const INK = 35;
const QUIET = 4;

/** Takes the photo. The same scene gives the same photo every time. */
export function photographScene(scene: Scene): Pixels {
  const { widthPx: width, heightPx: height, code, wound } = scene;
  const { eye, ahead, right, down } = cameraOf(scene);
  const printed = printedScale();
  const { size, dark } = printed.code;
  const module = printed.sideMm / size;
  const half = printed.pictureMm / 2;
  const { height: heightAt, along } = arch(code.archMm ?? 0, printed.pictureMm);
  const lift = code.liftMm ?? 0;
  const swollen = (code.swollenMm ?? 0) / module;
  const [cos, sin] = [Math.cos((code.turnDeg * Math.PI) / 180), Math.sin((code.turnDeg * Math.PI) / 180)];
  const isInk = (u: number, v: number): boolean => {
    const [x, y] = [Math.floor(u), Math.floor(v)];
    const has = (i: number, k: number): boolean => i >= 0 && k >= 0 && i < size && k < size && dark(i, k);
    if (has(x, y)) return true;
    if (swollen === 0) return false;
    const [fx, fy] = [u - x, v - y];
    return (
      (fx < swollen && has(x - 1, y)) ||
      (fx > 1 - swollen && has(x + 1, y)) ||
      (fy < swollen && has(x, y - 1)) ||
      (fy > 1 - swollen && has(x, y + 1))
    );
  };
  const xs = wound.map((p) => p[0]);
  const ys = wound.map((p) => p[1]);
  const box = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
  const inWound = (x: number, y: number): boolean => {
    if (x < box[0] || x > box[1] || y < box[2] || y > box[3]) return false;
    let inside = false;
    for (let i = 0, k = wound.length - 1; i < wound.length; k = i++) {
      const [ax, ay] = wound[i] as Point;
      const [bx, by] = wound[k] as Point;
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    }
    return inside;
  };
  const shadeOf = (px: number, py: number): number => {
    const [sx, sy] = [(px - width / 2) / scene.focalPx, (py - height / 2) / scene.focalPx];
    const [dx, dy, dz] = [0, 1, 2].map((i) => (ahead[i] as number) + sx * (right[i] as number) + sy * (down[i] as number)) as [
      number,
      number,
      number,
    ];
    // The sheet's height at the place is found by going there a few times.
    let z = lift;
    for (let round = 0; round < (code.archMm ? 6 : 1); round++) {
      const t = (z - eye[2]) / dz;
      const [rx, ry] = [eye[0] + t * dx - code.at[0], eye[1] + t * dy - code.at[1]];
      const [lx, ly] = [rx * cos + ry * sin, -rx * sin + ry * cos];
      const [ax, ay] = [along(lx), ly];
      const near = Math.abs(lx) <= half && Math.abs(ly) <= half;
      if (!near && round === 0 && Math.hypot(lx, ly) > 2 * half) break;
      z = lift + (near ? heightAt(lx) : 0);
      if (round === (code.archMm ? 5 : 0) && Math.abs(ax) <= half && Math.abs(ay) <= half) {
        const [u, v] = [ax / module + size / 2, ay / module + size / 2];
        return u > -QUIET && isInk(u, v) ? INK : PAPER;
      }
    }
    const t = -eye[2] / dz;
    return inWound(eye[0] + t * dx, eye[1] + t * dy) ? WOUND : SKIN;
  };
  const grey = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let i = 0; i < 9; i++) sum += shadeOf(x + ((i % 3) + 0.5) / 3, y + (Math.floor(i / 3) + 0.5) / 3);
      grey[y * width + x] = sum / 9;
    }
  }
  return finish(grey, scene);
}

function finish(sharp: Float32Array, { widthPx: width, heightPx: height, blurPx, noise, shade, seed }: Scene): Pixels {
  const grey = blurPx > 0 ? softened(softened(sharp, width, height, blurPx, 1, 0), width, height, blurPx, 0, 1) : sharp;
  let state = seed;
  const chance = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const data = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < width * height; i++) {
    const grain = noise * 2 * (chance() + chance() + chance() - 1.5);
    const value = (grey[i] as number) - (shade * (i % width)) / width + grain;
    data[i * 4] = data[i * 4 + 1] = data[i * 4 + 2] = value;
    data[i * 4 + 3] = 255;
  }
  return { width, height, data };
}

function softened(grey: Float32Array, width: number, height: number, sigma: number, dx: number, dy: number): Float32Array {
  const reach = Math.ceil(3 * sigma);
  const raw = Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma ** 2)));
  const sum = raw.reduce((a, b) => a + b, 0);
  const out = new Float32Array(grey.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let value = 0;
      for (let k = -reach; k <= reach; k++) {
        const px = Math.min(Math.max(x + k * dx, 0), width - 1);
        const py = Math.min(Math.max(y + k * dy, 0), height - 1);
        value += (grey[py * width + px] as number) * (raw[k + reach] as number);
      }
      out[y * width + x] = value / sum;
    }
  }
  return out;
}
