const files = import.meta.glob<string>('../../assets/drawings/*.svg', { query: '?url', import: 'default', eager: true });

/**
 * A line drawing of ours. It is painted through a mask, so that it takes the
 * colour of the text around it in every scheme; beside a title it says nothing
 * new, so it is hidden from screen readers.
 */
export function Drawing({ name, class: extra = '' }: { name: string; class?: string }) {
  const url = files[`../../assets/drawings/${name}.svg`];
  if (!url) return null;
  return <div class={`drawing ${extra}`} aria-hidden="true" style={{ maskImage: `url("${url}")`, WebkitMaskImage: `url("${url}")` }} />;
}
