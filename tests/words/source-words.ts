import { parseAst } from 'vite';
import { filesBelow } from '../house/source.ts';

interface Node {
  type: string;
  [part: string]: unknown;
}

const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null && typeof (value as Node).type === 'string';

/** Syntax tree of a TypeScript file, with JSX where the name says so. */
export const parse = (path: string, text: string): Node =>
  parseAst(text, { lang: path.endsWith('.tsx') ? 'tsx' : 'ts' }) as unknown as Node;

/** Every node below a node, itself first, with the nodes it stands in, outermost first. */
function* walk(node: Node, above: readonly Node[] = []): Generator<{ node: Node; above: readonly Node[] }> {
  yield { node, above };
  const inside = [...above, node];
  for (const value of Object.values(node)) {
    for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) yield* walk(child, inside);
  }
}

/** Source files of the app, or of some of its folders. */
export const sourceFiles = (...folders: string[]): string[] => folders.flatMap((f) => filesBelow(f)).filter((path) => /\.tsx?$/.test(path));

/** A hole in a template: whatever the code puts there. */
const HOLE = '\u0000';

/** A key as it stands in the code: whole, or with holes. */
export interface KeyUse {
  path: string;
  key: string;
}

/** The key of a use, for a message. */
export const shown = (use: KeyUse): string => use.key.replaceAll(HOLE, '{…}');

export const isTemplate = (use: KeyUse): boolean => use.key.includes(HOLE);

/** Whether a key of a language file fits a use. A hole stands for one step of a path: no colon, no dot. */
export function fits(use: KeyUse, key: string): boolean {
  const parts = use.key.split(HOLE).map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${parts.join('[^:.]+')}$`).test(key);
}

/**
 * Every text in a source file that begins like a key. A template that begins
 * with a constant of the same file (`${key}.plain`) is read with the constant
 * put in; a constant used so is the beginning of a key, not a key.
 */
export function keyUses(path: string, text: string, areas: readonly string[]): KeyUse[] {
  const begins = new RegExp(`^(${areas.join('|')}):[\\w${HOLE}]`);
  const constants = new Map<string, string>();
  const beginnings = new Set<string>();
  const found: (KeyUse & { name: string | undefined })[] = [];
  for (const { node, above } of walk(parse(path, text))) {
    if (node.type === 'VariableDeclarator' && isNode(node.id) && isNode(node.init)) {
      const value = textOf(node.init, constants, beginnings);
      if (value !== undefined && begins.test(value)) constants.set(String(node.id.name), value);
    }
    if (above.some((n) => n.type === 'ImportDeclaration')) continue;
    const key = textOf(node, constants, beginnings);
    if (key === undefined || !begins.test(key)) continue;
    const holder = above.at(-1);
    const name = holder?.type === 'VariableDeclarator' && isNode(holder.id) ? String(holder.id.name) : undefined;
    found.push({ path, key, name });
  }
  return found.filter((use) => use.name === undefined || !beginnings.has(use.name)).map(({ key }) => ({ path, key }));
}

/** The text of a string or template, holes marked; undefined for any other node. Constants put in are noted. */
function textOf(node: Node, constants: ReadonlyMap<string, string>, putIn: Set<string>): string | undefined {
  if (node.type === 'Literal') return typeof node.value === 'string' ? node.value : undefined;
  if (node.type !== 'TemplateLiteral') return undefined;
  const quasis = node.quasis as { value: { cooked: string } }[];
  const holes = node.expressions as Node[];
  const filled = holes.map((hole) => {
    const name = String(hole.name);
    const value = constants.get(name);
    if (value !== undefined) putIn.add(name);
    return value ?? HOLE;
  });
  return quasis.map((q, i) => q.value.cooked + (filled[i] ?? '')).join('');
}

/** Attributes, of elements and of our own parts, whose text a person sees or hears. */
const SPOKEN_ATTRIBUTES = [
  'aria-label',
  'aria-description',
  'aria-roledescription',
  'title',
  'placeholder',
  'alt',
  'label',
  'legend',
  'hint',
  'error',
  'over',
];

const HAS_LETTER = /\p{L}/u;

/** Words that a component shows without asking the language files, as `line: words`. */
export function ownWords(path: string, text: string): string[] {
  const found: { at: number; words: string }[] = [];
  for (const { node } of walk(parse(path, text))) {
    const attribute = node.type === 'JSXAttribute' && isNode(node.name) && SPOKEN_ATTRIBUTES.includes(String(node.name.name));
    if (attribute && isNode(node.value)) found.push(...saidBy(node.value));
    if (node.type === 'JSXElement' || node.type === 'JSXFragment') {
      for (const child of node.children as Node[]) found.push(...saidBy(child));
    }
  }
  return found.filter((f) => HAS_LETTER.test(f.words)).map((f) => `${text.slice(0, f.at).split('\n').length}: ${f.words.trim()}`);
}

/** Strings that an expression can come to, without those that calls and elements inside it are given. */
function saidBy(node: Node): { at: number; words: string }[] {
  const at = Number(node.start);
  const inside = (...parts: unknown[]) => parts.filter(isNode).flatMap(saidBy);
  if (node.type === 'JSXText') return [{ at, words: String(node.value) }];
  if (node.type === 'Literal') return typeof node.value === 'string' ? [{ at, words: node.value }] : [];
  if (node.type === 'TemplateLiteral') {
    const words = (node.quasis as { value: { cooked: string } }[]).map((q) => q.value.cooked).join(' ');
    return [{ at, words }, ...inside(...(node.expressions as Node[]))];
  }
  if (node.type === 'ConditionalExpression') return inside(node.consequent, node.alternate);
  if (node.type === 'LogicalExpression') return node.operator === '&&' ? inside(node.right) : inside(node.left, node.right);
  if (node.type === 'BinaryExpression') return node.operator === '+' ? inside(node.left, node.right) : [];
  if (node.type === 'JSXExpressionContainer' || node.type.startsWith('TS')) return inside(node.expression);
  return [];
}

/** The reasons a rule table can give: each rule's id with the variants written in it. */
export function ruleVariants(text: string): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const { node } of walk(parse('rules.ts', text))) {
    const own = propertyText(node, 'id');
    if (own === undefined || !propertyOf(node, 'when')) continue;
    const variants = [...walk(node)].map((inner) => propertyText(inner.node, 'variant')).filter((v) => v !== undefined);
    found.set(own, variants);
  }
  return found;
}

function propertyOf(node: Node, name: string): Node | undefined {
  if (node.type !== 'ObjectExpression') return undefined;
  const found = (node.properties as Node[]).find((p) => p.type === 'Property' && isNode(p.key) && p.key.name === name);
  return found && isNode(found.value) ? found.value : undefined;
}

function propertyText(node: Node, name: string): string | undefined {
  const value = propertyOf(node, name);
  return value?.type === 'Literal' && typeof value.value === 'string' ? value.value : undefined;
}
