import type { Point } from '../../app/care/healing/homography.ts';
import { printedScale } from '../../app/exchange/scale/printed-scale.ts';
import type { Pixels } from './picture.ts';

/** Something flat that lies beside the wound, from its own middle, mm; it may be lifted off the skin or arched. */
export interface Sheet {
  at: Point;
  turnDeg?: number;
  /** Height above the skin. */
  liftMm?: number;
  /** Height of its arch, along its own x; below 0 its ends stand up. */
  archMm?: number;
  halfWidth: number;
  halfHeight: number;
  /** How bright it is at a place of its own, 0 to 255; undefined beside it, as at a round corner. */
  shade: (x: number, y: number) => number | undefined;
}

/**
 * Photos of a wound with a scale beside it, made by following each line of
 * sight from a pinhole camera to the skin: nothing of the app's geometry is
 * used. All in mm; on the skin x goes right, y down, and z towards the camera.
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
  sheet: Sheet;
  /** The wound's edge. */
  wound: readonly Point[];
  blurPx: number;
  noise: number;
  /** Grey levels by which light falls off from left to right. */
  fall: number;
  seed: number;
}

const SKIN = 165;
const WOUND = 95;
const PAPER = 235;
const INK = 35;

/** The printed scale code. @param swollenMm by how much the ink has run. */
export function codeSheet(place: Pick<Sheet, 'at' | 'turnDeg' | 'liftMm' | 'archMm'>, swollenMm = 0): Sheet {
  const { code, sideMm, pictureMm } = printedScale();
  const module = sideMm / code.size;
  const isDark = (u: number, v: number): boolean =>
    u >= 0 && v >= 0 && u < code.size && v < code.size && code.dark(Math.floor(u), Math.floor(v));
  const run = swollenMm / module;
  const isInk = (u: number, v: number): boolean =>
    isDark(u, v) || (run > 0 && (isDark(u - run, v) || isDark(u + run, v) || isDark(u, v - run) || isDark(u, v + run)));
  return {
    ...place,
    halfWidth: pictureMm / 2,
    halfHeight: pictureMm / 2,
    shade: (x, y) => (isInk(x / module + code.size / 2, y / module + code.size / 2) ? INK : PAPER),
  };
}

/** A card with round corners of 3.18 mm and a dark stripe. */
export function cardSheet(place: Pick<Sheet, 'at' | 'turnDeg'>, face = 225): Sheet {
  const [halfWidth, halfHeight, round] = [85.6 / 2, 53.98 / 2, 3.18];
  return {
    ...place,
    halfWidth,
    halfHeight,
    shade: (x, y) => {
      const [dx, dy] = [Math.abs(x) - (halfWidth - round), Math.abs(y) - (halfHeight - round)];
      if (dx > 0 && dy > 0 && Math.hypot(dx, dy) > round) return undefined;
      return y > -22 && y < -10 ? INK : face;
    },
  };
}

export const PLAIN: Scene = {
  widthPx: 800,
  heightPx: 640,
  focalPx: 640,
  distanceMm: 120,
  aim: [-12, 0],
  tiltDeg: 0,
  tiltTo: 0,
  rollDeg: 0,
  sheet: codeSheet({ at: [-28, 0] }),
  wound: [],
  blurPx: 0.7,
  noise: 3,
  fall: 25,
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

/** Where a corner or any place of a sheet that is not arched is seen. */
export function onSheet(scene: Scene): (x: number, y: number) => Point {
  const { at, turnDeg = 0, liftMm = 0 } = scene.sheet;
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const project = projector(scene);
  return (x, y) => project([at[0] + x * cos - y * sin, at[1] + x * sin + y * cos], liftMm);
}

/** Follows a line of sight to a sheet: how bright it is there, undefined where it passes by. */
function sheetAt({ at, turnDeg = 0, liftMm = 0, archMm = 0, halfWidth, halfHeight, shade }: Sheet) {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  const a = archMm / halfWidth ** 2;
  const heightAt = (x: number): number => liftMm + archMm - a * x * x;
  // How far along its own surface a place of an arched sheet lies.
  const along = (x: number): number => (a === 0 ? x : (x / 2) * Math.sqrt(1 + (2 * a * x) ** 2) + Math.asinh(2 * a * x) / (4 * a));
  return (eye: Vector, [dx, dy, dz]: Vector): number | undefined => {
    let z = liftMm;
    // The height at the place is found by going there a few times.
    for (let round = archMm === 0 ? 5 : 0; ; round++) {
      const t = (z - eye[2]) / dz;
      const [rx, ry] = [eye[0] + t * dx - at[0], eye[1] + t * dy - at[1]];
      const [x, y] = [rx * cos + ry * sin, -rx * sin + ry * cos];
      if (Math.abs(y) > 2 * halfHeight || Math.abs(x) > 1.5 * halfWidth) return undefined;
      if (round < 5) z = heightAt(x);
      else return Math.abs(along(x)) <= halfWidth && Math.abs(y) <= halfHeight ? shade(along(x), y) : undefined;
    }
  };
}

/** Whether a place lies inside an outline, by counting edges to its right. */
function insideOf(outline: readonly Point[]): (x: number, y: number) => boolean {
  const [xs, ys] = [outline.map((p) => p[0]), outline.map((p) => p[1])];
  const box = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
  return (x, y) => {
    if (!(x >= box[0] && x <= box[1] && y >= box[2] && y <= box[3])) return false;
    let inside = false;
    outline.forEach(([ax, ay], i) => {
      const [bx, by] = outline.at(i - 1) as Point;
      if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
    });
    return inside;
  };
}

/** Parts of a pixel a side, each looked through where its corners differ. */
const PARTS = 3;

/** Takes the photo. The same scene gives the same photo every time. */
export function photographScene(scene: Scene): Pixels {
  const { widthPx: width, heightPx: height, focalPx } = scene;
  const { eye, ahead, right, down } = cameraOf(scene);
  const sheet = sheetAt(scene.sheet);
  const inWound = insideOf(scene.wound);
  const shadeOf = (px: number, py: number): number => {
    const [sx, sy] = [(px - width / 2) / focalPx, (py - height / 2) / focalPx];
    const ray: Vector = [
      ahead[0] + sx * right[0] + sy * down[0],
      ahead[1] + sx * right[1] + sy * down[1],
      ahead[2] + sx * right[2] + sy * down[2],
    ];
    const t = -eye[2] / ray[2];
    return sheet(eye, ray) ?? (inWound(eye[0] + t * ray[0], eye[1] + t * ray[1]) ? WOUND : SKIN);
  };
  const grey = new Float32Array(width * height);
  let above = Array.from({ length: width + 1 }, (_, x) => shadeOf(x, 0));
  for (let y = 0; y < height; y++) {
    const below = Array.from({ length: width + 1 }, (_, x) => shadeOf(x, y + 1));
    for (let x = 0; x < width; x++) {
      const one = above[x] as number;
      const isEven = above[x + 1] === one && below[x] === one && below[x + 1] === one;
      let sum = 0;
      for (let i = 0; i < PARTS ** 2 && !isEven; i++) {
        // Askew, so that an edge along the pixels is not seen in steps of a third.
        const [u, v] = [i % PARTS, Math.floor(i / PARTS)];
        sum += shadeOf(x + (u + (v + 0.5) / PARTS) / PARTS, y + (v + (u + 0.5) / PARTS) / PARTS);
      }
      grey[y * width + x] = isEven ? one : sum / PARTS ** 2;
    }
    above = below;
  }
  return finish(grey, scene);
}

function finish(sharp: Float32Array, { widthPx: width, heightPx: height, blurPx, noise, fall, seed }: Scene): Pixels {
  const grey = blurPx > 0 ? softened(softened(sharp, width, height, blurPx, 1, 0), width, height, blurPx, 0, 1) : sharp;
  let state = seed;
  const chance = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const data = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < width * height; i++) {
    const grain = noise * 2 * (chance() + chance() + chance() - 1.5);
    const value = (grey[i] as number) - (fall * (i % width)) / width + grain;
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
