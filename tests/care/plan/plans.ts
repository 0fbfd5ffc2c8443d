import { type Plan, type Recipe, readPlan, type Wound } from '../../../app/care/plan/plan.ts';
import demo from '../../../assets/demo/plan.json' with { type: 'json' };

/** Parsed JSON of any origin. */
export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
export type Path = readonly (string | number)[];

/** The demo plan as it stands in its file, as a copy that a test may spoil. */
export const demoContent = (): Json => structuredClone(demo.plan) as Json;

/** Reads a plan that a test takes for good. */
export function mustRead(content: unknown): Plan {
  const reading = readPlan(content);
  if (!reading.ok) throw new Error(`not a plan: ${JSON.stringify(reading.faults)}`);
  return reading.plan;
}

export const demoPlan = (): Plan => mustRead(demoContent());

type Parent = { [key: string]: Json };
function parentOf(content: Json, path: Path): { parent: Parent; last: string } {
  let parent = content as Parent;
  for (const part of path.slice(0, -1)) parent = parent[String(part)] as Parent;
  return { parent, last: String(path.at(-1)) };
}

/** Sets one field of parsed JSON, as an own key even where it is called `__proto__`. */
export function put(content: Json, path: Path, value: Json): Json {
  const { parent, last } = parentOf(content, path);
  Object.defineProperty(parent, last, { value, enumerable: true, configurable: true, writable: true });
  return content;
}

/** Takes one field of parsed JSON away. */
export function drop(content: Json, path: Path): Json {
  const { parent, last } = parentOf(content, path);
  delete parent[last];
  return content;
}

/** What stands at a path. */
export const at = (content: Json, path: Path): Json => path.reduce<Json>((now, part) => (now as Parent)[String(part)] as Json, content);

/** The path as one writes it in a table: `wounds.0.side`; numbers are places in a list. */
export const parsePath = (text: string): (string | number)[] =>
  text === '' ? [] : text.split('.').map((part) => (/^\d+$/.test(part) ? Number(part) : part));

/** Every field of parsed JSON, the containers too. */
export function allPaths(content: Json, above: Path = []): Path[] {
  if (typeof content !== 'object' || content === null) return [above];
  const inner = Object.entries(content).flatMap(([key, value]) => allPaths(value, [...above, Array.isArray(content) ? Number(key) : key]));
  return above.length === 0 ? inner : [above, ...inner];
}

/** A dry recipe, as common practice dresses a dry gangrene. */
export const DRY_RECIPE: Recipe = {
  secondary: { family: 'dryGauze', widthMm: 100, heightMm: 100 },
  fixation: 'rollBandage',
  change: { kind: 'hours', hours: 24 },
  cleanser: 'none',
  skinProtection: 'none',
  steps: [{ step: 'freshGloves' }, { step: 'dryDressing' }, { step: 'fix' }, { step: 'throwAway' }, { step: 'washHandsAgain' }],
  uses: [
    { item: 'gauze', amount: 2 },
    { item: 'gloves', amount: 1 },
  ],
};

/** A dry toe that must stay dry; anything wet is a call. */
export const DRY_WOUND: Wound = {
  id: 'w2',
  site: 'littleToe',
  side: 'right',
  keepDry: true,
  expectedDrainage: ['none', 'none'],
  known: [],
  bands: { none: { recipe: DRY_RECIPE }, light: { callUs: true }, moderate: { callUs: true }, heavy: { callUs: true } },
};

/** The demo plan with a second wound on the other foot, which must stay dry. */
export function twoWoundPlan(): Plan {
  const plan = demoPlan();
  return mustRead({ ...plan, wounds: [...plan.wounds, DRY_WOUND] });
}

export function woundOf(plan: Plan, id = 'w1'): Wound {
  const found = plan.wounds.find((w) => w.id === id);
  if (!found) throw new Error(`no wound ${id}`);
  return found;
}
