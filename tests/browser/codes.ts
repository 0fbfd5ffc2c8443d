import { PNG } from 'pngjs';
import type { Plan } from '../../app/care/plan/plan.ts';
import { makeKeys } from '../../app/exchange/clinic-keys.ts';
import { signPlan } from '../../app/exchange/envelope.ts';
import { type Code, codesFor, drawCode, QUIET_MODULES } from '../../app/exchange/qr-write.ts';
import type { ClinicKeys } from '../../app/exchange/signature.ts';
import { PASSPHRASE } from './desk.ts';

export const ADDRESS = 'http://localhost/';

/** A clinic's key pair for tests. */
export const newKeys = async (): Promise<ClinicKeys> => (await makeKeys(PASSPHRASE)).keys;

/** A photo of a code, as flat as photos never are; tests/exchange has tilted and blurred ones. */
export function photoOf(code: Code | string, pixels = 5) {
  const { size, dark } = typeof code === 'string' ? drawCode(code) : code;
  const side = (size + 2 * QUIET_MODULES) * pixels;
  const png = new PNG({ width: side, height: side });
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const [mx, my] = [Math.floor(x / pixels) - QUIET_MODULES, Math.floor(y / pixels) - QUIET_MODULES];
      const inside = mx >= 0 && my >= 0 && mx < size && my < size;
      const shade = inside && dark(mx, my) ? 0 : 255;
      png.data.set([shade, shade, shade, 255], (y * side + x) * 4);
    }
  }
  return { name: 'photo.png', mimeType: 'image/png', buffer: PNG.sync.write(png) };
}

/** The demo plan with so many words that it needs several codes. */
export function longPlan(demo: Plan): Plan {
  const note = (n: number) =>
    `Note ${n}: ${[...'abcdefghijklmnopqrstuvwxyz'].map((c, i) => c.repeat(((n * 7 + i * 3) % 5) + 1)).join(' ')}`;
  let count = 0;
  const next = structuredClone(demo);
  for (const wound of next.wounds) {
    for (const band of Object.values(wound.bands)) {
      if (!('recipe' in band)) continue;
      for (const step of band.recipe.steps) step.note = note(count++);
    }
  }
  return next;
}

/** The codes of a plan, signed. */
export async function codesOf(plan: Plan, keys: ClinicKeys): Promise<Code[]> {
  const codes = codesFor(await signPlan(plan, keys), ADDRESS);
  if (!codes) throw new Error('too large for codes');
  return codes;
}
