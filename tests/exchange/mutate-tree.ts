import fc from 'fast-check';
import { allPaths, drop, type Json, type Path, put } from '../care/plan/plans.ts';

/** Keys that would lend an object something of a prototype, and others that objects have without owning them. */
const KEYS = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'hasOwnProperty',
  'toJSON',
  'then',
  'valueOf',
  '',
  '0',
  'length',
] as const;

const deep = (depth: number): Json => {
  let inside: Json = 1;
  for (let i = 0; i < depth; i++) inside = i % 2 === 0 ? [inside] : { a: inside };
  return inside;
};
const NUMBERS = [-1, -0, 0.1, 1e21, 1e308, Number.MAX_SAFE_INTEGER, 2 ** 31, 2 ** 32, 5e-324];
const TEXTS = [
  '',
  ' ',
  '\u0000',
  '\ud800',
  '\u202e',
  '9999-99-99',
  '2031-02-30',
  '+275760-09-13',
  '__proto__',
  'constructor',
  'NaN',
  '1e999',
];

/** Values that no field of ours has. */
const hostile: fc.Arbitrary<Json> = fc.oneof(
  fc.constantFrom<Json>(null, true, [], {}, [[]], ...NUMBERS, ...TEXTS, 'x'.repeat(50_000), deep(30), deep(400)),
  fc.constantFrom(...KEYS).map((key) => put({}, [key], { polluted: true, polluted2: [1] })),
  fc.jsonValue({ maxDepth: 3 }).map((v) => v as Json),
);

type Change = (content: Json) => Json;
const isContainer = (value: Json | undefined): value is Json[] | { [key: string]: Json } => typeof value === 'object' && value !== null;
const isRecord = (value: Json | undefined): value is { [key: string]: Json } => isContainer(value) && !Array.isArray(value);

/** What stands at a path; undefined where it leads nowhere any more, for what stood on the way may have been replaced. */
function at(content: Json, path: Path): Json | undefined {
  let now: Json | undefined = content;
  for (const part of path) {
    if (now === undefined || !isContainer(now) || !Object.hasOwn(now, part)) return undefined;
    now = (now as { [key: string]: Json })[part];
  }
  return now;
}

/**
 * Ways to spoil JSON: a value replaced, a field lost or added, two values
 * changed about, a list cut or made long, numbers and texts beyond all sizes,
 * nesting, keys of prototypes. One to three at a time.
 */
export function treesOf(real: Json): fc.Arbitrary<Json> {
  const paths = allPaths(real);
  const place = fc.constantFrom(...paths);
  const one: fc.Arbitrary<Change> = fc.oneof(
    fc.tuple(place, hostile).map(
      ([path, value]): Change =>
        (c) =>
          put(c, path, structuredClone(value)),
    ),
    place.map(
      (path): Change =>
        (c) =>
          drop(c, path),
    ),
    fc.tuple(place, fc.constantFrom(...KEYS), hostile).map(
      ([path, key, value]): Change =>
        (c) =>
          isRecord(at(c, path)) ? put(c, [...path, key], structuredClone(value)) : c,
    ),
    fc.tuple(place, place).map(
      ([a, b]): Change =>
        (c) => {
          const [left, right] = [at(c, a), at(c, b)];
          if (left === undefined || right === undefined) return c;
          const before = structuredClone(left);
          put(c, a, structuredClone(right));
          return at(c, b) === undefined ? c : put(c, b, before);
        },
    ),
    fc.tuple(place, fc.integer({ min: 0, max: 300 })).map(
      ([path, length]): Change =>
        (c) => {
          const list = at(c, path);
          return Array.isArray(list) && list.length > 0
            ? put(
                c,
                path,
                Array.from({ length }, (_, i) => structuredClone(list[i % list.length] as Json)),
              )
            : c;
        },
    ),
    fc.tuple(place, fc.constantFrom(-1, 1e3, 1e9, 1e300)).map(
      ([path, factor]): Change =>
        (c) => {
          const value = at(c, path);
          return typeof value === 'number' ? put(c, path, value * factor) : c;
        },
    ),
    fc.tuple(place, fc.constantFrom('\u0000', '\u202e', ' ', '<b>', 'x'.repeat(5_000))).map(
      ([path, more]): Change =>
        (c) => {
          const value = at(c, path);
          return typeof value === 'string' ? put(c, path, value + more) : c;
        },
    ),
    hostile.map(
      (value): Change =>
        () =>
          structuredClone(value),
    ),
  );
  return fc.array(one, { minLength: 1, maxLength: 3 }).map((steps) => {
    let content = structuredClone(real);
    // A later change may no longer find its place.
    for (const step of steps) {
      try {
        content = step(content);
      } catch (error) {
        if (!(error instanceof TypeError)) throw error;
      }
    }
    return content;
  });
}
