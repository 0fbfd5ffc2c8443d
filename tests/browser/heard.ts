import type { CDPSession, Page } from '@playwright/test';

/**
 * What a screen reader has to go by: Chromium's accessibility tree, written
 * down as lines in reading order. Landmarks and groups are indented; a control
 * has its role, its name, its state and its description.
 */
interface AxValue {
  value?: unknown;
}
interface AxNode {
  nodeId: string;
  ignored: boolean;
  role?: AxValue;
  name?: AxValue;
  description?: AxValue;
  value?: AxValue;
  properties?: { name: string; value: AxValue }[];
  childIds?: string[];
}

/** A button, link or field, with the names of the groups, landmarks and list items it stands in, outermost first. */
export interface Control {
  role: string;
  name: string;
  description: string;
  within: readonly string[];
}
export interface Heard {
  lines: string[];
  controls: Control[];
}

const LANDMARKS: Record<string, string> = {
  banner: 'top bar',
  main: 'page',
  contentinfo: 'foot',
  navigation: 'navigation',
  region: 'region',
  complementary: 'aside',
  form: 'form',
};
/** Read as a whole, by their name. */
const CONTROLS: Record<string, string> = {
  button: 'button',
  link: 'link',
  checkbox: 'checkbox',
  radio: 'radio button',
  textbox: 'field',
  combobox: 'choice list',
  ComboBoxSelect: 'choice list',
  slider: 'slider',
  spinbutton: 'number field',
  tab: 'tab',
  DisclosureTriangle: 'disclosure',
  Date: 'date field',
  InputTime: 'time field',
  DateTime: 'date field',
};
const PICTURES: Record<string, string> = { image: 'image', img: 'image', progressbar: 'progress' };
const GROUPS: Record<string, string> = {
  group: 'group',
  radiogroup: 'radio group',
  tablist: 'tabs',
  tabpanel: 'tab page',
  figure: 'figure',
  blockquote: 'quote',
  table: 'table',
  list: 'list',
};
const LIVE: Record<string, string> = { status: 'announced', alert: 'announced at once' };
/** Their words run on in the line they stand in. */
const INLINE = ['strong', 'emphasis', 'superscript', 'subscript', 'generic', 'time', 'code', 'mark', 'abbr', 'Abbr'];
const SILENT = ['InlineTextBox', 'ListMarker', 'LineBreak'];

const text = (value: AxValue | undefined): string => String(value?.value ?? '').trim();
const bare = (words: string): string => words.replace(/\s+/g, ' ').trim();

/** States that differ from what one expects of such a control. */
function statesOf(node: AxNode): string[] {
  const has = new Map((node.properties ?? []).map((p) => [p.name, String(p.value.value)]));
  const states: string[] = [];
  const role = text(node.role);
  if (role === 'checkbox' || role === 'radio') states.push(has.get('checked') === 'true' ? 'chosen' : 'not chosen');
  if (has.has('expanded')) states.push(has.get('expanded') === 'true' ? 'open' : 'closed');
  if (has.get('selected') === 'true') states.push('chosen');
  if (has.has('pressed')) states.push(has.get('pressed') === 'true' ? 'pressed' : 'not pressed');
  if (has.get('disabled') === 'true') states.push('out of use');
  if ((has.get('invalid') ?? 'false') !== 'false') states.push('wrong');
  if (has.get('focused') === 'true') states.push('here is the focus');
  return states;
}

/** The description, where it says more than the name. */
function inBrackets(node: AxNode): string {
  const description = bare(text(node.description));
  return description === '' || description === bare(text(node.name)) ? '' : ` (${description})`;
}

/** Writes a tree down. */
class Reader {
  readonly heard: Heard = { lines: [], controls: [] };
  private readonly byId: Map<string, AxNode>;
  private run = '';
  /** What a definition is about. */
  private term = '';

  constructor(nodes: readonly AxNode[]) {
    this.byId = new Map(nodes.map((n) => [n.nodeId, n]));
    const root = nodes[0];
    if (root) for (const child of this.childrenOf(root)) this.read(child, 0, []);
    this.flush(0);
  }

  private childrenOf(node: AxNode): AxNode[] {
    return (node.childIds ?? []).flatMap((id) => this.byId.get(id) ?? []);
  }
  private say(line: string, depth: number): void {
    if (line !== '') this.heard.lines.push(`${'  '.repeat(depth)}${line}`);
  }
  /** Ends the line of plain words. */
  private flush(depth: number): void {
    this.say(bare(this.run), depth);
    this.run = '';
  }
  /** All that is said within a node, in one line. */
  private inner(node: AxNode): string {
    const role = text(node.role);
    if (!node.ignored && role === 'StaticText') return text(node.name);
    if (!node.ignored && role in CONTROLS) return `${CONTROLS[role]}: ${text(node.name)}`;
    return bare(
      this.childrenOf(node)
        .map((child) => this.inner(child))
        .join(' '),
    );
  }

  private read(node: AxNode, depth: number, within: readonly string[]): void {
    const role = text(node.role);
    if (SILENT.includes(role)) return;
    if (node.ignored || role === 'none') {
      for (const child of this.childrenOf(node)) this.read(child, depth, within);
      return;
    }
    if (role === 'StaticText') {
      this.run += ` ${text(node.name)}`;
      return;
    }
    if (!INLINE.includes(role)) this.flush(depth);
    if (role in CONTROLS) this.control(node, depth, within);
    else if (role === 'heading') this.heading(node, depth);
    else if (role === 'row') this.row(node, depth);
    else if (role in LIVE) this.live(node, depth);
    else if (role === 'listitem') this.item(node, depth, within);
    else if (role in PICTURES) this.say(`${PICTURES[role]}: ${text(node.name)}${inBrackets(node)}`, depth);
    else if (role === 'term') this.term = this.inner(node);
    else if (role === 'definition') this.say(`${this.term}: ${this.inner(node)}`, depth);
    else this.frame(node, depth, within);
  }

  private control(node: AxNode, depth: number, within: readonly string[]): void {
    const role = CONTROLS[text(node.role)] as string;
    const name = bare(text(node.name));
    const value = text(node.value);
    const said = [`${role}: ${name}`];
    if (value !== '' && value !== name && role !== 'checkbox' && role !== 'radio button') said.push(`“${value}”`);
    said.push(...statesOf(node));
    this.say(said.join(', ') + inBrackets(node), depth);
    this.heard.controls.push({ role, name, description: bare(text(node.description)), within });
  }
  private heading(node: AxNode, depth: number): void {
    const level = node.properties?.find((p) => p.name === 'level')?.value.value;
    this.say([`heading ${level}: ${bare(text(node.name))}`, ...statesOf(node)].join(', ') + inBrackets(node), depth);
  }
  private row(node: AxNode, depth: number): void {
    const cells = this.childrenOf(node).map((cell) => this.inner(cell));
    this.say(`row: ${cells.filter((cell) => cell !== '').join(' | ')}`, depth);
  }
  private live(node: AxNode, depth: number): void {
    const words = this.inner(node);
    const name = bare(text(node.name));
    if (words !== '') this.say(`(${LIVE[text(node.role)]}) ${name === '' || name === words ? '' : `${name}: `}${words}`, depth);
    // What can be pressed in it counts too.
    const before = this.heard.lines.length;
    for (const child of this.childrenOf(node)) this.read(child, depth, []);
    this.run = '';
    this.heard.lines.length = before;
  }
  private item(node: AxNode, depth: number, within: readonly string[]): void {
    const before = this.heard.lines.length;
    for (const child of this.childrenOf(node)) this.read(child, depth + 1, [...within, this.inner(node)]);
    this.flush(depth + 1);
    const first = this.heard.lines[before];
    if (first !== undefined) this.heard.lines[before] = `${'  '.repeat(depth)}• ${first.trim()}`;
  }
  /** A landmark or a named group is said and indented; anything else only parts its words from the next. */
  private frame(node: AxNode, depth: number, within: readonly string[]): void {
    const role = text(node.role);
    const name = bare(text(node.name));
    const kind = LANDMARKS[role] ? `— ${LANDMARKS[role]}` : role === 'table' || name !== '' ? GROUPS[role] : undefined;
    if (kind) {
      const states = statesOf(node).filter((state) => state === 'wrong');
      this.say([name ? `${kind}: ${name}` : kind, ...states].join(', ') + inBrackets(node), depth);
    }
    const inside = kind ? depth + 1 : depth;
    const names = kind ? [...within, name || kind] : within;
    for (const child of this.childrenOf(node)) this.read(child, inside, names);
    if (kind || !INLINE.includes(role)) this.flush(inside);
  }
}

const sessions = new WeakMap<Page, Promise<CDPSession>>();

/** The page as it stands, as it is heard. */
export async function heard(page: Page): Promise<Heard> {
  const session = sessions.get(page) ?? page.context().newCDPSession(page);
  sessions.set(page, session);
  const { nodes } = (await (await session).send('Accessibility.getFullAXTree')) as unknown as { nodes: AxNode[] };
  return new Reader(nodes).heard;
}

/** Controls without a name, and such as sound alike in the same place: a list of links or buttons would leave one guessing. */
export function unclearControls({ controls }: Heard): string[] {
  const seen = new Set<string>();
  return controls.flatMap(({ role, name, description, within }) => {
    if (name === '') return [`a ${role} without a name in ${within.join(' / ')}`];
    const key = JSON.stringify([role, name, description, within]);
    if (seen.has(key)) return [`two of ${role} “${name}” in ${within.join(' / ')}`];
    seen.add(key);
    return [];
  });
}
