/** Keys that would lend an object something of a prototype. No file of ours has them. */
const UNSAFE_KEYS: readonly string[] = ['__proto__', 'constructor', 'prototype'];

/** How large parsed JSON may be before anybody looks at what it says. */
export interface JsonBounds {
  /** Letters of the text. */
  letters: number;
  /** Lists and objects inside each other. */
  depth: number;
  /** Values in all, the containers too. */
  values: number;
}

export type ForeignJson = { ok: true; content: unknown } | { ok: false; why: 'tooLarge' | 'notJson' | 'unsafe' };

/**
 * Parses JSON of any origin within bounds. Never throws.
 * `notJson`: a fault of the text, or half of it. `unsafe`: nested too deeply,
 * too many values, or a key that belongs to a prototype.
 */
export function foreignJson(text: string, bounds: JsonBounds): ForeignJson {
  if (text.length > bounds.letters) return { ok: false, why: 'tooLarge' };
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch {
    return { ok: false, why: 'notJson' };
  }
  return isSafe(content, bounds) ? { ok: true, content } : { ok: false, why: 'unsafe' };
}

const isContainer = (value: unknown): value is object => typeof value === 'object' && value !== null;

/** Lists are taken as they are: their keys would take more room than the lists. */
const keysOf = (container: object): readonly string[] => (Array.isArray(container) ? [] : Object.keys(container));
const valuesOf = (container: object): readonly unknown[] => (Array.isArray(container) ? container : Object.values(container));

/** Walks level by level, so that no depth can exhaust the stack. */
function isSafe(content: unknown, { depth, values }: JsonBounds): boolean {
  let left = values;
  let level = [content].filter(isContainer);
  for (let deep = 0; level.length > 0; deep++) {
    if (deep >= depth) return false;
    const next: object[] = [];
    for (const container of level) {
      const inside = valuesOf(container);
      left -= inside.length;
      if (left < 0 || keysOf(container).some((key) => UNSAFE_KEYS.includes(key))) return false;
      for (const value of inside) if (isContainer(value)) next.push(value);
    }
    level = next;
  }
  return true;
}
